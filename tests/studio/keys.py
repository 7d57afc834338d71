#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The whole job by keyboard alone: not one move of a pointer. An action is a command's key, a typed field,
or a point set on the drawing (arrows to the place, then Enter); the presses are counted too.

usage: keys.py PROGRAM DEMO-FOLDER SCRATCH-FOLDER [PICTURES-FOLDER]
Speaks TAP. poppler's pdftotext reads the proposal."""

import os
import re
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from job import (KNOWNS, SCRATCH, View, check, grown, picture, proposal_written, whole_job)  # noqa: E402
from person import Person, Trouble  # noqa: E402

ALLOWED = 60
FINE, FAR = 2, 24


class Typist(Person):
    """Only keys; where the keyboard's pointer is, is kept in mind."""

    def __init__(self, *arguments, **words):
        super().__init__(*arguments, **words)
        self.presses = 0
        self.at = None

    def tally(self):
        return f"{self.actions} actions, {self.presses} presses"

    def strike(self, *keys):
        self.presses += len(keys)
        for i in range(0, len(keys), 20):
            self.xdo("key", "--delay", 8, *keys[i:i + 20])

    def key(self, *keys):
        self.actions += 1
        self.strike(*keys)
        time.sleep(0.35)

    def write(self, text, *then):
        """Types where the focus is."""
        self.actions += 1
        self.presses += len(text)
        self.xdo("type", "--delay", 6, text)
        time.sleep(0.4)
        self.strike(*then)
        time.sleep(0.5)

    def to_drawing(self):
        self.take("F6")

    def take(self, key):
        """A hand's key goes to the drawing by itself; its pointer begins in the middle."""
        self.key(key)
        self.at = None

    def aim(self, place):
        if self.at is None:
            x, y, w, h = self.place(self.drawing())
            self.at = [x + w / 2, y + h / 2]
            self.strike("Right")
        for axis, keys in ((0, ("Left", "Right")), (1, ("Up", "Down"))):
            distance = place[axis] - self.at[axis]
            key = keys[distance > 0]
            far, fine = divmod(round(abs(distance) / FINE), FAR // FINE)
            self.strike(*["shift+" + key] * far, *[key] * fine)
            self.at[axis] += (far * FAR + fine * FINE) * (1 if distance > 0 else -1)
        time.sleep(0.1)

    def point(self, place, then="Return"):
        self.actions += 1
        self.aim(place)
        self.strike(then)
        time.sleep(0.25)

    def click(self, *arguments, **words):
        raise Trouble("the keyboard has no pointer")

    drag = press = type = click


def start(person):
    person.see("From a photo")
    person.key("ctrl+n")
    person.choose_file(os.path.join(SCRATCH, "strip.jpg"))
    person.wait(lambda: "Photo" in person.words(), 15, "the photo on the canvas")
    time.sleep(1.5)
    check(True, "a new design from the photo")


def state_rectangle(person):
    person.to_drawing()
    view = View(person)
    for corner in KNOWNS["rectangle"]["px"]:
        person.point(view(corner))
    person.see(re.compile("^Width, corner 1 to 2"))
    # The fields have the focus as soon as the last corner is set.
    person.write("10 ft", "Tab")
    person.write("4 ft", "Return")
    person.see(re.compile("The lens was .* above the ground"))
    check(True, "a rectangle stated by its corners and sizes")


def trace_bed(person):
    person.take("ctrl+b")
    view = View(person)
    outline = KNOWNS["bed_outline"]["px"]
    for point in outline[::max(1, len(outline) // 7)]:
        person.point(view(point))
    person.key("ctrl+Return")
    text = person.see(re.compile(r"sq ft, .* around")).get_name()
    picture(person, "keys-bed")
    check(True, f"the bed: {text}")


def find(person, words):
    person.key("ctrl+f")
    person.write(words, "Return")
    person.at = None


def plant(person, name, hand, points, before, what):
    find(person, name)
    if hand:
        person.take(hand)
    view = View(person)
    for point in points:
        person.point(view(point))
    if len(points) > 1:
        person.key("ctrl+Return")
    return grown(person, before, what)


def four_plants(person):
    person.key("alt+5")
    n = plant(person, "panicum virgatum", None, [(1190, 800)], 0, "a specimen")
    n = plant(person, "nepeta faassenii", "ctrl+4", [(560, 980), (1000, 860)], n, "a row")
    n = plant(person, "echinacea purpurea", "ctrl+5", [(480, 1130), (600, 1010), (900, 960), (800, 1160)], n, "a drift")
    n = plant(person, "carex pensylvanica", "ctrl+6", [(1150, 880)], n, "a fill")
    picture(person, "keys-A")
    check(True, f"four plants in alternative A: {n} plants")


def swap(person, walk, new, botanical):
    """Tab walks through the plantings of the drawing."""
    person.to_drawing()
    person.key(*["Tab"] * walk)
    find(person, new)
    person.key("ctrl+h")
    person.see(re.compile(f"^{botanical}.*, (specimen|row|drift|fill)"))


def two_more(person):
    person.key("ctrl+shift+t")
    person.see(re.compile("^Alternative B"))
    person.key("ctrl+1")
    swap(person, 1, "schizachyrium scoparium", "Schizachyrium")
    check(True, "alternative B by copy and swap")
    person.key("ctrl+shift+t")
    person.see(re.compile("^Alternative C"))
    swap(person, 2, "salvia nemorosa", "Salvia")
    check(True, "alternative C by copy and swap")
    picture(person, "keys-C")


def compare(person):
    person.key("alt+6")
    person.see(re.compile("✓ best"), seconds=30)
    check(True, "three alternatives side by side")


def give(person):
    target = os.path.join(SCRATCH, "proposal.pdf")
    person.key("ctrl+e")
    person.choose_file(target)
    proposal_written(person, target, ["Panicum", "Schizachyrium", "Echinacea", "Nepeta", "Salvia", "Carex"])


if __name__ == "__main__":
    sys.exit(whole_job(Typist, [start, state_rectangle, trace_bed, four_plants, two_more, compare, give], ALLOWED))
