# SPDX-License-Identifier: GPL-3.0-or-later
"""The rows that the benchmarks wrote, as one table; then they are taken away.

table.py ROWS
Growth is the figure for ten times the work over the figure itself: 10 is in proportion. More than 20 is
told and fails.
"""

import math
import os
import sys

MOST_GROWTH = 20


def read(path):
    with open(path, encoding="utf-8") as file:
        return [line.rstrip("\n").split("\t") for line in file]


def milliseconds(value):
    return f"{value:,.3f}" if value < 10 else f"{value:,.0f}" if value >= 1000 else f"{value:,.1f}"


def main():
    if not os.path.exists(sys.argv[1]):
        print("no benchmark has written a row: run them all, meson test --benchmark")
        return 1
    rows = {row[0]: row for row in read(sys.argv[1])}
    os.unlink(sys.argv[1])
    print("| what | ms | floor, ms | ratio | ten times the work | floor: what it is |")
    print("| --- | ---: | ---: | ---: | ---: | --- |")
    worse = []
    for name, *numbers, note in rows.values():
        figure, floor, grown = map(float, numbers)
        growth = grown / figure
        if growth > MOST_GROWTH:
            worse.append(name)
        times = "–" if math.isnan(growth) else f"× {growth:.1f}"
        print(f"| {name} | {milliseconds(figure)} | {milliseconds(floor)} | {figure / floor:,.1f} | {times} | {note} |")
    for name in worse:
        print(f"{name}: grows far worse than its work")
    return len(worse)


if __name__ == "__main__":
    sys.exit(main())
