#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# The catalogues: nothing untranslated, and each translation takes the same values as its English.
import os
import re
import shutil
import subprocess
import sys
import tempfile

root = sys.argv[1]
sys.path.insert(0, os.path.join(root, "po"))
sys.dont_write_bytecode = True
import say  # noqa: E402

# ISO C 7.23.6.1: flags, width, precision, length, conversion; POSIX adds the place "%2$s".
CONVERSION = re.compile(r"%(?:(\d+)\$)?([-+#0']*)(\*|\d+)?(?:\.(\*|\d+))?(hh|h|ll|l|j|z|t|L)?([diouxXeEfFgGaAcspn%])")


def values(text):
    """Place -> type of the value that it takes."""
    found, place = {}, 0
    for match in CONVERSION.finditer(text):
        if match.group(6) == "%":
            continue
        for star in (match.group(3), match.group(4)):
            if star == "*":
                place += 1
                found[place] = "*"
        place += 1
        at = int(match.group(1)) if match.group(1) else place
        kind = {"i": "d", "X": "x", "e": "f", "g": "f", "G": "f", "E": "f", "F": "f"}.get(match.group(6), match.group(6))
        found[at] = (match.group(5) or "") + kind
    return found


def check(name, faults):
    global number
    number += 1
    print(f"{'not ok' if faults else 'ok'} {number} - {name}")
    for fault in faults:
        print(f"# {fault}")


def keywords():
    """As po/meson.build tells them to xgettext: "_", "bl_say:2"."""
    with open(os.path.join(root, "po", "meson.build"), encoding="utf-8") as file:
        return re.findall(r"'--keyword=([^']+)'", file.read())


def messages():
    """Every message that the sources ask for; None where there is no xgettext to find them."""
    if not shutil.which("xgettext"):
        return None
    out = subprocess.run(["xgettext", "--files-from=po/POTFILES.in", "--directory=.", "-o", "-", "--from-code=UTF-8"]
                         + [f"--keyword={word}" for word in keywords()],
                         cwd=root, capture_output=True, text=True, check=True).stdout
    with tempfile.NamedTemporaryFile("w", suffix=".pot", encoding="utf-8") as file:
        # A template has no translations: its own words stand in for them.
        file.write(re.sub(r'^msgstr(\[\d\])? ""$', r'msgstr\1 "-"', out, flags=re.M))
        file.flush()
        return {(context, english) for context, english, _, _ in say.entries(file.name)}


def unlisted():
    with open(os.path.join(root, "po", "POTFILES.in"), encoding="utf-8") as file:
        listed = set(file.read().split())
    speaks = re.compile(r'\b(?:%s) ?\([^;{]*?"' % "|".join(word.split(":")[0] for word in keywords()))
    for folder, _, names in sorted(os.walk(os.path.join(root, "src"))):
        for name in sorted(names):
            path = os.path.relpath(os.path.join(folder, name), root)
            with open(os.path.join(root, path), encoding="utf-8") as file:
                if name.endswith(".c") and speaks.search(file.read()) and path not in listed:
                    yield path


def records():
    """What the plants' records say in words."""
    folder = os.path.join(root, "data", "plants")
    for name in sorted(os.listdir(folder)):
        if not name.endswith(".plants"):
            continue
        with open(os.path.join(folder, name), encoding="utf-8") as file:
            for line in file:
                key, _, value = line.strip().partition("=")
                if key in ("care_note", "harm_note", "invasive", "flower_color_name") and value:
                    yield value
                if key == "regulated" and value:
                    yield from (entry.split("|")[1].strip() for entry in value.split(";"))


number = 0
wanted = messages()
check("POTFILES.in: every file that speaks", list(unlisted()))
with open(os.path.join(root, "po", "LINGUAS"), encoding="utf-8") as file:
    languages = [word for line in file for word in line.split("#")[0].split()]
for language in languages:
    path = os.path.join(root, "po", language + ".po")
    faults = []
    for context, english, plural, strings in say.entries(path):
        # A form for one may leave its number out ("a plant" for "%u plant").
        for i, words in enumerate(strings):
            against = values(plural if plural and i > 0 else english)
            if values(words) != against and not (plural and i == 0 and not values(words)):
                faults.append(f"“{english}”: {sorted(against.items())} but “{words}”: {sorted(values(words).items())}")
    check(f"{language}: the same values", faults)
    if wanted is not None:
        there = {(context, english) for context, english, _, _ in say.entries(path)}
        check(f"{language}: every message has its words", [f"“{english}”" for _, english in sorted(
            wanted - there, key=lambda message: message[1])])
    there = {english for _, english, _, _ in say.entries(os.path.join(root, "po", f"plants.{language}.po"))}
    said = set(records())
    check(f"{language}: the records' words", [f"“{english}” has no words" for english in sorted(said - there)]
          + [f"“{english}” is in no record any more" for english in sorted(there - said)])
print(f"1..{number}")
