#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# A language nobody speaks, to find words left out and words cut off: pseudo.py es.po OUTPUT.po. Every message of the
# catalogue becomes itself between marks, with accents and a third longer, as translations often are.
import os
import re
import sys

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import say  # noqa: E402

ACCENTS = str.maketrans("aeiouncAEIOUNC", "áéíóúñçÁÉÍÓÚÑÇ")
KEPT = re.compile(r"(%(?:\d+\$)?[-+#0']*(?:\*|\d+)?(?:\.(?:\*|\d+))?(?:hh|h|ll|l|j|z|t|L)?[A-Za-z%]|<[^>]*>|&\w+;|\n)")


def stranger(text):
    parts = KEPT.split(text)
    words = "".join(p if i % 2 else p.translate(ACCENTS) for i, p in enumerate(parts))
    letters = sum(len(p) for p in parts[::2])
    return "⟦" + words + "~" * (letters // 3) + "⟧"


def quoted(text):
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


def main():
    out = ['msgid ""', 'msgstr ""', '"Content-Type: text/plain; charset=UTF-8\\n"',
           '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"', ""]
    for context, english, plural, _ in say.entries(sys.argv[1]):
        if context is not None:
            out.append(f"msgctxt {quoted(context)}")
        out.append(f"msgid {quoted(english)}")
        if plural is None:
            out.append(f"msgstr {quoted(stranger(english))}")
        else:
            out += [f"msgid_plural {quoted(plural)}", f"msgstr[0] {quoted(stranger(english))}",
                    f"msgstr[1] {quoted(stranger(plural))}"]
        out.append("")
    with open(sys.argv[2], "w", encoding="utf-8") as file:
        file.write("\n".join(out))


main()
