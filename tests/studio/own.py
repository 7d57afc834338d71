#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Plants of the person's own, as a person has them: from the shelf a copy is changed, a mistake is told
beside its field, a cut-out picture is chosen, the plant is kept, planted, hidden, shown again, written
as a table, taken out and brought back; a bad table brings in nothing and names its line and column; a
nursery's list is taken in, its prices go into the design and its stock onto the cards.

usage: own.py PROGRAM DEMO-FOLDER SCRATCH-FOLDER [PICTURES-FOLDER]
Speaks TAP. Tables are read back by Python's csv module (RFC 4180); the picture is a PNG written here by
ISO/IEC 15948."""

import csv
import glob
import os
import re
import sqlite3
import struct
import sys
import time
import zlib

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from job import PROGRAM, SCRATCH, check, picture, so_far, tell_trouble  # noqa: E402
from person import Person, Trouble  # noqa: E402

GROUND = (0, 0, 0, 0)


def write_png(path, width, height, pixel):
    def chunk(kind, data):
        body = kind + data
        return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))

    rows = b"".join(b"\0" + b"".join(bytes(pixel(x, y)) for x in range(width)) for y in range(height))
    head = struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows))
                   + chunk(b"IEND", b""))


def bouquet(x, y):
    """A stem and a round head, within a clear ground."""
    inside = ((x - 100) / 80) ** 2 + ((y - 110) / 90) ** 2 < 1
    if inside:
        return (200 - y // 2, 60 + (x * 7 + y * 13) % 60, 120, 255)
    if 94 < x < 106 and 150 < y < 390:
        return (70, 110, 50, 255)
    return GROUND


def start(person):
    person.see("On a blank plan")
    person.press("On a blank plan")
    person.wait(person.drawing, 15, "the canvas")
    person.press(re.compile("^Plants: "))
    check(True, "a blank design with its shelf")


def find(person, words):
    person.type("Find a plant", words, enter=False)
    time.sleep(0.9)


def command(person, words):
    person.key("ctrl+k")
    person.type("What do you want to do?", words, enter=False)
    time.sleep(0.3)
    person.key("Return")
    time.sleep(0.6)


def own_plants():
    files = glob.glob(os.path.join(os.environ["XDG_DATA_HOME"], "bedline", "own-plants.db"))
    if not files:
        return {}
    with sqlite3.connect(f"file:{files[0]}?mode=ro", uri=True) as base:
        return dict(base.execute("select slug, record from plants"))


def field(person, name, text):
    person.type(name, text, enter=False)


def write_a_plant(person):
    find(person, "nepeta six hills")
    person.press(re.compile("^Menu of Nepeta"))
    time.sleep(0.4)
    picture(person, "own-1-menu")
    person.press(re.compile("^A plant of your own from a copy"))
    person.see(re.compile("^A copy of Nepeta"))
    time.sleep(0.8)
    picture(person, "own-2-form")
    # The name is still that of the one copied, and a height may not go down as it goes up.
    person.press("Keep the plant")
    person.see(re.compile("^The shelf has a plant of this name"))
    field(person, "Cultivar", "Harbour Mist")
    person.press("Size and habit")
    field(person, re.compile("^Height when grown.*, usual"), "9 ft")
    person.press("Keep the plant")
    person.see(re.compile("The usual must lie between the lowest and the highest"))
    time.sleep(0.4)
    picture(person, "own-3-mistake")
    check(own_plants() == {}, "a mistake is told beside its field, and nothing is kept")
    field(person, re.compile("^Height when grown.*, usual"), "30 in")
    for group in ("Where it grows", "Through the year", "Care", "Cautions", "Sizes and prices"):
        person.press(group)
        time.sleep(0.3)
        picture(person, "own-3-" + group.split()[0].lower())


def choose_picture(person):
    path = os.path.join(SCRATCH, "bouquet.png")
    write_png(path, 200, 400, bouquet)
    person.press("Picture")
    person.press("Choose a picture…")
    person.choose_file(path)
    person.see("From the foot to the top it is")
    time.sleep(0.8)
    picture(person, "own-4-picture")
    person.press("Keep the plant")
    person.see(re.compile("^Nepeta .*Harbour Mist.* is on your shelf"))
    kept = own_plants()
    check(list(kept) == ["nepeta-x-faassenii-harbour-mist"], f"kept under the key of its name: {list(kept)}")
    record = next(iter(kept.values()))
    height = re.search(r"^height=(.*)$", record, re.M).group(1).split()
    check(abs(float(height[2]) - 76.2) < 0.1, "30 in is 76.2 cm (the international inch): " + " ".join(height))
    check(re.search(r"^picture=[0-9a-f]{64} 76\.2 0\.5\d* 1\.0000 0 0$", record, re.M) is not None,
          "the record speaks of its picture, as high as the plant, its foot at the stem")
    return next(iter(kept))


def hide_and_show(person):
    find(person, "harbour mist")
    person.see(re.compile("^catmint.*your own|.*Harbour Mist.*your own"))
    picture(person, "own-5-card")
    person.press(re.compile("^Menu of Nepeta .*Harbour Mist"))
    person.press("Hide from the shelf")
    person.see(re.compile("is hidden from the shelf"))
    person.see("0 plants")
    person.press("Take back")
    person.see("1 plant")
    check(True, "hidden, and back by the message's button")
    person.press(re.compile("^Menu of Nepeta .*Harbour Mist"))
    person.press("Hide from the shelf")
    person.see("0 plants")
    command(person, "hidden plants")
    person.press(re.compile("^Show Nepeta .*Harbour Mist.* again$"))
    person.see("No plant is hidden.")
    person.key("Escape")
    person.see("1 plant")
    check(True, "hidden, and shown again from the list of hidden ones")


def tables(person, slug):
    path = os.path.join(SCRATCH, "mine.csv")
    command(person, "write my plants")
    person.choose_file(path)
    person.see(re.compile("^Your plants are written to"))
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file, strict=True))
    check(len(rows) == 2 and rows[1][0] == slug and len(rows[0]) == len(rows[1]),
          f"the table has the plant: {len(rows[0])} columns")
    spoilt = [list(rows[0]), list(rows[1]), list(rows[1])]
    spoilt[1][rows[0].index("cultivar")] = "Other One"
    spoilt[1][0] = "other-one"
    spoilt[2][0] = "third-one"
    spoilt[2][rows[0].index("zones")] = "9 to 5"
    bad = os.path.join(SCRATCH, "bad.csv")
    with open(bad, "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(spoilt)
    command(person, "bring in plants")
    person.choose_file(bad)
    told = person.see(re.compile(r"^Line 3, column \d+")).get_name()
    column = int(re.match(r"Line 3, column (\d+)", told).group(1))
    check(column == rows[0].index("zones") + 1 and list(own_plants()) == [slug],
          "a bad table names its line and column and brings nothing in: " + told)
    find(person, "harbour mist")
    person.press(re.compile("^Menu of Nepeta .*Harbour Mist"))
    person.press("Take out of your plants")
    person.see(re.compile("is taken out of your plants"))
    check(own_plants() == {}, "taken out")
    command(person, "bring in plants")
    person.choose_file(path)
    person.see("1 plant is brought in")
    check(list(own_plants()) == [slug], "brought in again from the table")


def nursery(person):
    path = os.path.join(SCRATCH, "list.csv")
    with open(path, "w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([
            ["Botanical name", "Size", "Price", "In stock", "Nursery"],
            ["Calamagrostis ×acutiflora ‘Karl Foerster’", "1 gal", "11.75", "60", "Invented Nursery"],
            ["Echinacea purpurea", "#1", "12.50", "0", ""],
            ["Plantus unknowniana", "#1", "9.00", "5", ""]])
    command(person, "nursery prices stock")
    person.choose_file(path)
    person.see(re.compile(r"^Line 4: there is no Plantus unknowniana in the library"))
    picture(person, "own-6-nursery")
    person.press("Prices into this design")
    person.see(re.compile("^2 prices are in this design"))
    person.key("Escape")
    find(person, "karl foerster")
    person.see(re.compile("Karl Foerster.*60 in stock"))
    picture(person, "own-7-stock")
    check(True, "the nursery's list: a line without its plant is told, prices in the design, stock on the card")


def main():
    person = None
    try:
        person = Person(PROGRAM, log=os.path.join(SCRATCH, "stderr.txt"))
        start(person)
        write_a_plant(person)
        slug = choose_picture(person)
        hide_and_show(person)
        tables(person, slug)
        nursery(person)
        check(person.leave() == 0, "and left")
        with open(os.path.join(SCRATCH, "stderr.txt")) as log:
            noise = [line for line in log if "WARNING" in line or "CRITICAL" in line]
        check(not noise, "no warning on standard error " + "".join(noise[:3]).strip())
    except Trouble as trouble:
        tell_trouble(trouble, person)
        sys.exit(1)
    print(f"1..{so_far()}")


main()
