#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The whole job by someone who has never seen the window, using what it shows: photo, a known, the bed,
an alternative of four plants, two more by copy and swap, side by side, the proposal. Every press, click,
drag, typed field and key counts as one action; sixty are allowed.

usage: newcomer.py PROGRAM DEMO-FOLDER SCRATCH-FOLDER [PICTURES-FOLDER]
Speaks TAP. poppler's pdftotext reads the proposal."""

import os
import re
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from job import (KNOWNS, SCRATCH, View, check, grown, picture, proposal_written, start,  # noqa: E402
                 state_rectangle, whole_job)
from person import Person  # noqa: E402

ALLOWED = 60


def trace_bed(person):
    person.press(re.compile("^Bed: "))
    person.press("Trace")
    time.sleep(0.3)
    view = View(person)
    outline = KNOWNS["bed_outline"]["px"]
    step = max(1, len(outline) // 10)
    for point in outline[::step]:
        person.click(*view(point))
    person.key("Return")
    text = person.see(re.compile(r"sq ft, .* around")).get_name()
    check(True, f"the bed: {text}")


def find(person, words):
    """Enter takes the first plant found."""
    person.type("Find a plant", words)
    time.sleep(0.5)


def four_plants(person):
    person.press(re.compile("^Plants: "))
    find(person, "panicum virgatum")
    view = View(person)
    person.click(*view((1300, 760)))
    n = grown(person, 0, "a specimen")
    find(person, "nepeta faassenii")
    person.press("Row")
    person.drag([view((560, 980)), view((1000, 860))])
    n = grown(person, n, "a row")
    find(person, "echinacea purpurea")
    person.press("Drift")
    person.drag([view((480, 1120)), view((620, 1110)), view((760, 1090))])
    n = grown(person, n, "a drift")
    find(person, "carex pensylvanica")
    person.press("Fill")
    person.click(*view((1150, 880)))
    n = grown(person, n, "a fill")
    check(True, f"four plants in alternative A: {n} plants")
    picture(person, "newcomer-A")


def copy_alternative(person, name):
    person.press("Alternatives: add, copy, rename, delete")
    person.press("Copy of this alternative")
    person.see(re.compile(f"^Alternative {name}"))


def swap(person, old, new, botanical):
    row = person.see(re.compile(f"^{old}.*, (specimen|row|drift|fill)"))
    x, y, w, h = person.place(row)
    person.click(x + w // 3, y + h // 2)
    find(person, new)
    person.press(re.compile("^Swap everywhere for "))
    person.see(re.compile(f"^{botanical}.*, (specimen|row|drift|fill)"))


def two_more(person):
    copy_alternative(person, "B")
    person.press("Select")
    swap(person, "Panicum", "schizachyrium scoparium", "Schizachyrium")
    swap(person, "Echinacea", "rudbeckia fulgida", "Rudbeckia")
    check(True, "alternative B by copy and swap")
    picture(person, "newcomer-B")
    copy_alternative(person, "C")
    swap(person, "Nepeta", "salvia nemorosa", "Salvia")
    swap(person, "Rudbeckia", "hylotelephium herbstfreude", "Hylotelephium")
    check(True, "alternative C by copy and swap")


def compare(person):
    person.press(re.compile("^Compare: "))
    for name in "ABC":
        person.see(f"Alternative {name}", seconds=20)
    # Each row of the table has its best marked by more than a colour.
    person.see(re.compile("✓ best"), seconds=30)
    # Each figure of the others says by how much it differs from the first's.
    person.see(re.compile(r"[+−]\s[$\d]"), seconds=30)
    picture(person, "newcomer-compare")
    check(True, "three alternatives side by side")


def give(person):
    target = os.path.join(SCRATCH, "proposal.pdf")
    person.press(re.compile("^Give: "))
    person.press("Proposal, PDF…")
    person.choose_file(target)
    proposal_written(person, target, ["Panicum", "Schizachyrium", "Echinacea", "Rudbeckia", "Nepeta", "Salvia",
                                      "Hylotelephium", "Carex"])


if __name__ == "__main__":
    sys.exit(whole_job(Person, [start, state_rectangle, trace_bed, four_plants, two_more, compare, give], ALLOWED))
