# SPDX-License-Identifier: GPL-3.0-or-later
"""The rows that the benchmarks wrote, as one table; then they are taken away.

table.py ROWS
Growth is the figure for ten times the work over the figure itself: 10 is in proportion. Told and failed are a ratio
to the floor above MOST_RATIO, a growth above MOST_GROWTH, either of them no number, and a row that is missing.
"""

import os
import sys

MOST_GROWTH = 20
# About four times what each takes (see DEVELOPERS.md): a busy machine passes, a tenth of the speed does not. What waits
# for the disk is told by the clock on the wall and has more room; a copy takes 1.3 to 6.5 times its floor.
MOST_RATIO = {
    "layout, 1,000 plants": 6000,
    "take-off and estimate": 4.5,
    "fit, with substitutes": 60,
    "sun map, 20 m at 10 cm": 130,
    "camera of 20 knowns": 35,
    "area with its interval": 1000,
    "search for three words": 50,
    "standing figure, 300 px high": 600,
    "scene, a frame of 1,000 plants": 120,
    "open a design": 16,
    "save an edit durably": 8,
    "undo": 8,
    "save a copy": 25,
    "proposal as PDF, three pictures": 100,
}


def read(path):
    with open(path, encoding="utf-8") as file:
        return [line.rstrip("\n").split("\t") for line in file]


def milliseconds(value):
    return f"{value:,.3f}" if value < 10 else f"{value:,.0f}" if value >= 1000 else f"{value:,.1f}"


def faults(name, ratio, growth):
    if name not in MOST_RATIO:
        yield f"{name}: table.py does not say what ratio is too much"
    elif not ratio <= MOST_RATIO[name]:
        yield f"{name}: {ratio:,.1f} times its floor, more than {MOST_RATIO[name]:,}"
    if not growth <= MOST_GROWTH:
        yield f"{name}: × {growth:.1f} for ten times the work, more than {MOST_GROWTH}"


def main():
    if not os.path.exists(sys.argv[1]):
        print("no benchmark has written a row: run them all, meson test --benchmark")
        return 1
    rows = {row[0]: row for row in read(sys.argv[1])}
    os.unlink(sys.argv[1])
    print("| what | ms | floor, ms | ratio | ten times the work | floor: what it is |")
    print("| --- | ---: | ---: | ---: | ---: | --- |")
    found = [f"{name}: its benchmark wrote no row" for name in MOST_RATIO if name not in rows]
    for name, *numbers, note in rows.values():
        figure, floor, grown = map(float, numbers)
        ratio, growth = figure / floor, grown / figure
        found += faults(name, ratio, growth)
        print(f"| {name} | {milliseconds(figure)} | {milliseconds(floor)} | {ratio:,.1f} | × {growth:.1f} | {note} |")
    for fault in found:
        print(fault)
    return len(found) != 0


if __name__ == "__main__":
    sys.exit(main())
