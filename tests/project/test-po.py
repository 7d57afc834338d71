#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# The catalogues: each translation takes the same values as its English, in the same order or by number.
import os
import re
import sys

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


number = 0
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
print(f"1..{number}")
