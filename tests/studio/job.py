# SPDX-License-Identifier: GPL-3.0-or-later
"""What the scripts that do the main job share: the demo's photo on the canvas, checks in TAP."""

import os
import re
import shutil
import subprocess
import sys
import time

from person import Trouble, read_json

PROGRAM, DEMO, SCRATCH = sys.argv[1:4]
PICTURES = sys.argv[4] if len(sys.argv) > 4 and sys.argv[4] else None
KNOWNS = read_json(os.path.join(DEMO, "harbour-lane.knowns.json"))
done = 0


def check(good, words):
    global done
    done += 1
    print(("ok" if good else "not ok"), done, "-", words, flush=True)
    if not good:
        raise Trouble(words)


def go_on(number):
    """Goes on counting checks after @number."""
    global done
    done = number


def so_far():
    return done


class View:
    """Photo pixels to places on the screen, as the canvas fits the photo: whole, with a margin."""

    def __init__(self, person):
        x, y, w, h = person.place(person.drawing())
        pw, ph = KNOWNS["size_px"]
        self.zoom = min((w - 36) / pw, (h - 36) / ph)
        self.x = x + round(w / 2 - pw / 2 * self.zoom)
        self.y = y + round(h / 2 - ph / 2 * self.zoom)

    def __call__(self, point):
        return self.x + point[0] * self.zoom, self.y + point[1] * self.zoom


def picture(person, name):
    if PICTURES:
        person.shot(os.path.join(PICTURES, name + ".png"))


def plants_in(words):
    found = re.search(r": (\d+) plants?", words)
    return int(found.group(1)) if found else 0


def grown(person, before, what):
    """How many plants there are once there are more than @before."""
    return person.wait(lambda: plants_in(person.words()) > before and plants_in(person.words()), 15, what)


def proposal_written(person, target, plants):
    """The proposal that was asked for names the plants of every alternative."""
    person.see(re.compile("^Written to .*" + re.escape(os.path.basename(target))), seconds=60)
    text = subprocess.run(["pdftotext", "-layout", target, "-"], capture_output=True, text=True).stdout
    check(all(plant in text for plant in plants), "the proposal names the plants of all three")


def whole_job(kind, steps, allowed):
    """A person of that kind does the steps one after another, in a window of their own."""
    shutil.copy(os.path.join(DEMO, KNOWNS["photo"]), os.path.join(SCRATCH, "strip.jpg"))
    person = kind(PROGRAM, log=os.path.join(SCRATCH, "stderr.txt"))
    try:
        for step in steps:
            step(person)
        print("#", person.tally(), flush=True)
        check(person.actions <= allowed, f"{person.actions} actions, {allowed} allowed")
        check(person.leave() == 0, "quit")
    except Trouble as trouble:
        return tell_trouble(trouble, person)
    return end_quietly()


def start(person):
    """A new design from the photo."""
    person.see("From a photo")
    picture(person, "1-start")
    person.press("From a photo")
    person.choose_file(os.path.join(SCRATCH, "strip.jpg"))
    person.wait(lambda: "Photo" in person.words(), 15, "the photo on the canvas")
    check(True, "a new design from the photo")
    time.sleep(1.5)


def state_rectangle(person):
    view = View(person)
    for corner in KNOWNS["rectangle"]["px"]:
        person.click(*view(corner))
    person.see(re.compile("^Width, corner 1 to 2"))
    # Clicked order: bed side near, bed side far: the first side is the length.
    person.type(re.compile("^Width, corner 1 to 2"), "10 ft", enter=False)
    person.type(re.compile("^Depth, corner 2 to 3"), "4 ft")
    person.see(re.compile("The lens was .* above the ground"))
    picture(person, "2-known")
    check(True, "a rectangle stated by four clicks and its sizes")


def tell_trouble(trouble, person):
    print("not ok", done + 1, "-", trouble)
    if person is not None:
        picture(person, "trouble")
        for node in person.walk():
            if node.get_name():
                print("#", node.get_role_name(), "|", node.get_name()[:100])
        person.kill()
    print(f"1..{done + 1}")
    return 1


def end_quietly():
    """The last check: nothing was complained of on standard error."""
    with open(os.path.join(SCRATCH, "stderr.txt")) as log:
        noise = [line for line in log if "WARNING" in line or "CRITICAL" in line]
    check(not noise, "no warning on standard error " + "".join(noise[:3]).strip())
    print(f"1..{done}")
    return 0
