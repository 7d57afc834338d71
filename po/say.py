#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# Compiles message catalogues into C tables: say.py OUTPUT.h es.po plants.es.po ... (src/base/say.c looks words up in them).
import ast
import os
import re
import sys


def entries(path):
    """(context, msgid, plural, [msgstr...]) of every translated entry; fuzzy and obsolete ones are left out."""
    with open(path, encoding="utf-8") as file:
        blocks = re.split(r"\n\s*\n", file.read())
    for block in blocks:
        fields, key, fuzzy = {}, None, False
        for line in block.splitlines():
            if line.startswith("#,"):
                fuzzy = fuzzy or "fuzzy" in line
            if line.startswith("#") or not line.strip():
                continue
            match = re.match(r'(msgctxt|msgid_plural|msgid|msgstr(?:\[\d+\])?)\s+(".*")\s*$', line)
            if match:
                key = match.group(1)
                fields[key] = ast.literal_eval(match.group(2))
            elif line.startswith('"') and key:
                fields[key] += ast.literal_eval(line.strip())
            else:
                sys.exit(f"{path}: this line is not part of a catalogue: {line}")
        strings = [fields[k] for k in sorted(fields) if k.startswith("msgstr")]
        if fields.get("msgid") and not fuzzy and all(strings) and strings:
            yield fields.get("msgctxt"), fields["msgid"], fields.get("msgid_plural"), strings


def quoted(text):
    if text is None:
        return "NULL"
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t") + '"'


def main():
    output, catalogues = sys.argv[1], sys.argv[2:]
    lines, languages, all_rows = ["/* Made from the catalogues by po/say.py. */"], [], {}
    for path in catalogues:
        language = os.path.basename(path).split(".")[-2]
        with open(path, encoding="utf-8") as file:
            if "plural=(n != 1)" not in file.read():
                sys.exit(f"{path}: only languages with the plural rule “n != 1” can be compiled in")
        all_rows.setdefault(language, {}).update(
            {m: (s[0], s[1] if len(s) > 1 else None) for c, m, p, s in entries(path) if c is None})
    for language, rows in all_rows.items():
        lines.append(f"static const Entry words_{language}[] = {{")
        for english in sorted(rows, key=lambda text: text.encode()):
            lines.append(f"  {{ {quoted(english)}, {quoted(rows[english][0])}, {quoted(rows[english][1])} }},")
        lines.append("};")
        languages.append(f'  {{ "{language}", words_{language}, G_N_ELEMENTS (words_{language}) }},')
    lines += ["static const Catalogue catalogues[] = {"] + languages + ["};"]
    with open(output, "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
