#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# The help pages: the same in every language, every link leads somewhere, every page is reached from the first.
import os
import sys
import xml.etree.ElementTree as ET

folder = os.path.join(sys.argv[1], "data", "help")
MALLARD = "{http://projectmallard.org/1.0/}"
number = 0


def check(faults, words):
    global number
    number += 1
    print(f"{'not ok' if faults else 'ok'} {number} - {words}")
    for fault in faults:
        print("#", fault)


def pages(language):
    path = os.path.join(folder, language)
    return {name[:-5]: ET.parse(os.path.join(path, name)).getroot() for name in sorted(os.listdir(path))}


def links(page):
    return [link.get("xref") for link in page.iter(MALLARD + "link")]


def shape(page):
    return [node.tag for node in page.iter()]


english = pages("C")
for language in sorted(os.listdir(folder)):
    own = pages(language)
    check([f"{name}: {to}" for name, page in own.items() for to in links(page) if to not in own],
          f"{language}: every link leads to a page")
    check([name for name in own if name != "index" and name not in links(own["index"])],
          f"{language}: every page is reached from the first")
    check([name for name in english if name not in own or shape(own[name]) != shape(english[name])],
          f"{language}: the same pages in the same shape")
    check([name for name, page in own.items() if page.get("id") != name], f"{language}: ids are file names")
with open(os.path.join(sys.argv[1], "ui", "bedline.gresource.xml"), encoding="utf-8") as file:
    resources = file.read()
check([f"{language}/{name}" for language in os.listdir(folder) for name in pages(language)
       if f"{language}/{name}.page<" not in resources], "every page is in the program")
print(f"1..{number}")
