#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Two studios and the command line on one design: what one does the others show, and say, without being
touched; nothing of it is lost or mixed.

usage: others.py PROGRAM DEMO-FOLDER SCRATCH-FOLDER [PICTURES-FOLDER]
Speaks TAP. The prices are read back from the file by Python's own SQLite."""

import csv
import os
import re
import sqlite3
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from job import DEMO, PROGRAM, SCRATCH, check, picture, plants_in, so_far, tell_trouble  # noqa: E402
from person import Person, Trouble  # noqa: E402

DESIGN = os.path.join(SCRATCH, "shared.bedline")
SAID = re.compile("^Another program has changed this design")


def bedline(*words):
    subprocess.run([PROGRAM, *words], check=True, stdout=subprocess.DEVNULL)


def done():
    """How many steps the file holds as done."""
    with sqlite3.connect(f"file:{DESIGN}?mode=ro", uri=True) as base:
        return base.execute("select done from meta").fetchone()[0]


def plants(person):
    return plants_in(person.words())


def one_undoes(one, other):
    many, steps = plants(one), done()
    check(many > 50 and plants(other) == many, f"two studios show the same {many} plants")
    one.press(re.compile("^Undo: Draft"))
    one.wait(lambda: plants(one) == 0, 10, "an empty design in the first")
    other.wait(lambda: plants(other) == 0, 10, "an empty design in the second, untouched")
    other.see(SAID)
    picture(other, "others-1-said")
    check(done() == steps - 1, "what the first undid, the second shows and says")
    check(one.look(SAID) is None, "and the first is told nothing of its own doing")
    return many


def other_redoes(one, other, many):
    other.press(re.compile("^Redo: Draft"))
    other.wait(lambda: plants(other) == many, 10, "the plants in the second")
    one.wait(lambda: plants(one) == many, 10, "the plants in the first, untouched")
    one.see(SAID)
    check(True, "what the second redoes, the first shows and says")


def cost(person):
    """What the ledger's page of costs says on its second line: from and to."""
    label = person.look(re.compile(r"^\$[\d,.]+ to \$[\d,.]+ "))
    return label.get_name() if label else ""


def prices_by_command(one, other):
    for person in (one, other):
        person.press("Cost")
        person.wait(lambda: cost(person), 10, "the costs")
    before = cost(one)
    check(cost(other) == before, f"both show one price, {before}")
    table = os.path.join(SCRATCH, "prices.csv")
    bedline("prices", DESIGN, "-o", table)
    with open(table, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))
    at = rows[0].index("price")
    for row in rows[1:]:
        if row[at]:
            row[at] = f"{float(row[at]) * 3:.2f}"
    with open(table, "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(rows)
    bedline("prices", DESIGN, "--take", table)
    for person in (one, other):
        person.wait(lambda: cost(person) not in ("", before), 10, "the new price")
    check(cost(one) == cost(other), f"prices from the command line are in both: {cost(one)}")
    one.press(re.compile("^Undo: "))
    for person in (one, other):
        person.wait(lambda: cost(person) == before, 10, "the price before")
    check(True, "and are taken back in both by one of them")


def replaced(one, other):
    """As a program does that keeps two folders alike."""
    newer = os.path.join(SCRATCH, "newer.bedline")
    bedline("draft", os.path.join(DEMO, "harbour-lane.sheet.json"), "-o", newer)
    one.press(re.compile("^Undo: Draft"))
    for person in (one, other):
        person.wait(lambda: plants(person) == 0, 10, "an empty design in both")
    os.replace(newer, DESIGN)
    for person in (one, other):
        person.see(re.compile("was replaced by another file while it was open"))
    picture(other, "others-2-replaced")
    check(plants(one) == 0, "a file put in the place of the open one is told, untouched")
    for person in (one, other):
        person.press("Open it again")
        person.wait(lambda: plants(person) > 50, 20, "the plants of the new file")
    check(True, "and opened again by the banner's button")


def main():
    bedline("draft", os.path.join(DEMO, "harbour-lane.sheet.json"), "-o", DESIGN)
    one = other = None
    try:
        log = os.path.join(SCRATCH, "stderr.txt")
        one, other = Person(PROGRAM, [DESIGN], log=log), Person(PROGRAM, [DESIGN], log=log)
        for person in (one, other):
            person.wait(lambda: plants(person) > 0, 30, "the plants on the canvas")
        many = one_undoes(one, other)
        other_redoes(one, other, many)
        prices_by_command(one, other)
        replaced(one, other)
        bedline("verify", DESIGN)
        check(True, "the file is sound")
    except (Trouble, subprocess.CalledProcessError) as trouble:
        return tell_trouble(trouble, other or one)
    one.kill()
    other.kill()
    print(f"1..{so_far()}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
