#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A plan from elsewhere, worked on in the real window as a person does it: an SVG chosen as the base
drawing of a new design, one length on it stated by two clicks, a bed traced on it, its area read off
the sheet, the length changed and the change taken back.

usage: plan.py PROGRAM DEMO-FOLDER SCRATCH-FOLDER [PICTURES-FOLDER]
Speaks TAP. The survey is invented; its bed is 40 ft by 12 ft, so 480 sq ft by the rule of width times
length, and its scale bar 50 ft."""

import os
import re
import sys
import time

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from job import PROGRAM, SCRATCH, check, picture, so_far, tell_trouble  # noqa: E402
from person import Person, Trouble  # noqa: E402

WIDTH, HEIGHT = 100.0, 60.0  # feet of the sheet
BED = [(20, 30), (60, 30), (60, 42), (20, 42)]
BAR = [(10, 55), (60, 55)]

SURVEY = f"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" font-family="sans-serif">
<rect width="100" height="60" fill="#fdfcf8"/>
<g fill="none" stroke="#333" stroke-width=".18">
<rect x="14" y="4" width="64" height="18"/><path d="M14 22l64-18M14 4l64 18" stroke-width=".06"/>
<path d="M0 48h100M0 50.5h100"/><path d="M64 22v26M72 22v26" stroke="#777"/>
<path d="M20 30h40v12h-40z" stroke="#2a5a7a" stroke-width=".25"/>
<path d="M20 26h40" stroke-width=".1"/><path d="M20 25.4v1.2M60 25.4v1.2" stroke-width=".1"/>
<path d="M10 55h50M10 54.4v1.2M35 54.4v1.2M60 54.4v1.2"/>
</g>
<g fill="none" stroke="#4d7a4a" stroke-width=".14"><circle cx="88" cy="30" r="6"/><circle cx="88" cy="30" r=".5"/></g>
<g font-size="1.9" fill="#333"><text x="38" y="13.5">READING ROOM</text><text x="36" y="25">40'-0"</text>
<text x="65.5" y="36" font-size="1.5">walk</text><text x="9.4" y="58">0</text><text x="58" y="58">50 FT</text>
<text x="84.5" y="38.5" font-size="1.5">lime tree</text></g>
</svg>"""


class Sheet:
    """Feet of the survey to places on the screen, as the canvas shows it whole, with a margin."""

    def __init__(self, person):
        x, y, w, h = person.place(person.drawing())
        self.zoom = min((w - 36) / WIDTH, (h - 36) / HEIGHT)
        self.x = x + w / 2 - WIDTH / 2 * self.zoom
        self.y = y + h / 2 - HEIGHT / 2 * self.zoom

    def __call__(self, point):
        return self.x + point[0] * self.zoom, self.y + point[1] * self.zoom


def state_length(person, length):
    sheet = Sheet(person)
    for end in BAR:
        person.click(*sheet(end))
    person.see("How long is it, between the two ends?")
    picture(person, "plan-2-length")
    person.type("Length", length)
    person.see(re.compile(r"^Known length, "))
    time.sleep(0.8)


def area_of(person):
    words = person.see(re.compile(r"^[\d.,]+ ± [\d.,]+ sq ft$")).get_name()
    return [float(n.replace(",", "")) for n in re.findall(r"[\d.,]+", words)]


def work(person):
    person.see("On a plan from elsewhere")
    picture(person, "plan-0-start")
    person.press("On a plan from elsewhere")
    person.choose_file(os.path.join(SCRATCH, "survey.svg"))
    person.see("Point out a known length", seconds=20)
    time.sleep(1.5)
    picture(person, "plan-1-drawing")
    check("Plan" in person.words(), "a survey under the plan of a new design")
    state_length(person, "50 ft")
    picture(person, "plan-3-known")
    check(True, "its scale by two clicks and a length")
    person.press(re.compile("^Bed: "))
    person.press("Trace")
    time.sleep(0.5)
    sheet = Sheet(person)
    for corner in BED:
        person.click(*sheet(corner))
        person.key("s")
    person.key("Return")
    person.see("Name of the bed")
    time.sleep(0.6)
    picture(person, "plan-4-bed")
    person.press(re.compile("^Known: "))
    time.sleep(0.6)
    area, half = area_of(person)
    picture(person, "plan-5-area")
    check(abs(area - 480) < max(half, 1) * 1.5 and 0 < half < 40, f"the bed's area: {area} ± {half} sq ft")
    person.press("Change the known length")
    person.type("Length", "100 ft")
    time.sleep(0.8)
    doubled, _ = area_of(person)
    check(abs(doubled / area - 4) < 0.01, f"twice the length is four times the area: {doubled}")
    person.press(re.compile("^Undo: "))
    time.sleep(0.8)
    check(abs(area_of(person)[0] - area) < 0.1, "and undo takes it back")


def main():
    person = None
    with open(os.path.join(SCRATCH, "survey.svg"), "w") as out:
        out.write(SURVEY)
    try:
        person = Person(PROGRAM, log=os.path.join(SCRATCH, "program.txt"))
        work(person)
        person.kill()
        with open(os.path.join(SCRATCH, "program.txt")) as said:
            grave = [line for line in said if "CRITICAL" in line or "WARNING" in line]
        check(not grave, "nothing complained" + "".join(grave[:1]))
        print(f"1..{so_far()}")
        return 0
    except Trouble as trouble:
        return tell_trouble(trouble, person)


if __name__ == "__main__":
    sys.exit(main())
