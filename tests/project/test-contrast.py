#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
# Contrast of every word colour in ui/style.css with what it can stand on, in each look. WCAG 2.2: relative luminance
# and contrast ratio as defined there; 1.4.3 text 4.5:1 (AA), 1.4.6 7:1 (AAA, for the high-contrast look), 1.4.11 parts
# of controls 3:1. What cannot be worked is exempt (1.4.3 "inactive user interface component").
import os
import re
import sys

ui = os.path.join(sys.argv[1], "ui")
SURFACES = ["bl_paper", "bl_sheet", "bl_lift", "bl_tint"]
LOOKS = {"light": 4.5, "dark": 4.5, "contrast": 7.0}
# Lines that alone say where a control is or what state it has.
PARTS = ["bl_field", "bl_accent"]
# The drawing lays its own light slips under its words in every look.
DRAWN = ["canvas"]


def read(name):
    with open(os.path.join(ui, name), encoding="utf-8") as file:
        return re.sub(r"/\*.*?\*/", "", file.read(), flags=re.S)


def colours_of(look):
    return dict(re.findall(r"@define-color (\w+) (#[0-9a-f]{6});", read(look + ".css")))


def rgb(text):
    return tuple(int(text[i:i + 2], 16) / 255 for i in (1, 3, 5))


def resolve(text, colours):
    """(r, g, b, alpha) of a colour as the style sheet writes it; None for none."""
    text = text.strip()
    match = re.fullmatch(r"alpha\((.+), ([\d.]+)\)", text)
    if match:
        base = resolve(match.group(1), colours)
        return base[:3] + (base[3] * float(match.group(2)),)
    if text.startswith("@"):
        return rgb(colours[text[1:]]) + (1.0,)
    if text.startswith("#"):
        return rgb(text) + (1.0,)
    return None


def over(top, under):
    return tuple(t * top[3] + u * (1 - top[3]) for t, u in zip(top[:3], under[:3])) + (1.0,)


def luminance(colour):
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour[:3]]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def rules():
    for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", read("style.css")):
        yield " ".join(selector.split()), dict(re.findall(r"([\w-]+)\s*:\s*([^;]+);", body))


def faults_of(look, least):
    colours, faults = colours_of(look), []
    surfaces = {name: resolve("@" + name, colours) for name in SURFACES}
    for selector, body in rules():
        if "color" not in body or ":disabled" in selector or selector in DRAWN:
            continue
        ink = resolve(body["color"], colours)
        own = resolve(body.get("background-color", body.get("background", "")), colours)
        grounds = {}
        for name, surface in surfaces.items():
            if own is not None:
                grounds[f"its own ground over {name}"] = over(own, surface)
            else:
                grounds[name] = surface
        if "wrong" in selector and own is None:
            grounds["bl_wrong_tint"] = resolve("@bl_wrong_tint", colours)
        for name, ground in grounds.items():
            ratio = contrast(over(ink, ground), ground)
            if ratio < least:
                faults.append(f"{selector}: {ratio:.2f} on {name}")
    for part in PARTS:
        for name, surface in surfaces.items():
            ratio = contrast(resolve("@" + part, colours), surface)
            if ratio < 3:
                faults.append(f"{part} as a line: {ratio:.2f} on {name}")
    return faults


def main():
    # The worked ends of the scale: black on white is 21:1, #767676 on white the darkest common grey that passes AA.
    white, grey = (1, 1, 1, 1), rgb("#767676") + (1,)
    known = abs(contrast((0, 0, 0, 1), white) - 21) < 1e-9 and 4.5 < contrast(grey, white) < 4.6
    print(f"{'ok' if known else 'not ok'} 1 - the ratio is that of WCAG 2.2")
    for number, (look, least) in enumerate(LOOKS.items(), 2):
        faults = faults_of(look, least)
        print(f"{'not ok' if faults else 'ok'} {number} - {look}: words {least}:1, lines 3:1")
        for fault in faults:
            print("#", fault)
    print(f"1..{len(LOOKS) + 1}")


main()
