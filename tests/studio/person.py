# SPDX-License-Identifier: GPL-3.0-or-later
"""A person at the studio's window: eyes are the accessibility tree, hands are pointer and keys."""

import json
import os
import re
import subprocess
import time

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402


class Trouble(Exception):
    """What the person expected did not happen."""


class Person:
    def __init__(self, program, arguments=(), name="bedline", log=None):
        self.actions = 0
        self.log = open(log or os.devnull, "a")
        # The accessibility bus is up before the program looks for it.
        Atspi.init()
        self.wait(lambda: Atspi.get_desktop(0) is not None, 10, "the accessibility bus")
        Atspi.get_desktop(0).get_child_count()
        time.sleep(0.5)
        self.process = subprocess.Popen([program, *arguments], stderr=self.log)
        self.app = self.wait(lambda: self.find_app(name), 20, "the program to appear")
        self.window = self.wait(self.find_window, 10, "its window")

    # Looking.

    def tally(self):
        return f"{self.actions} actions of the person"

    def find_app(self, name):
        # What was seen is remembered until told otherwise.
        desktop = Atspi.get_desktop(0)
        desktop.clear_cache()
        for i in range(desktop.get_child_count()):
            child = desktop.get_child_at_index(i)
            if child is not None and child.get_process_id() == self.process.pid:
                return child
        return None

    def find_window(self):
        for i in range(self.app.get_child_count()):
            child = self.app.get_child_at_index(i)
            if child is not None:
                return child
        return None

    def wait(self, condition, seconds=10, what="it"):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            try:
                found = condition()
            except GLib.Error:
                found = None
            if found:
                return found
            time.sleep(0.1)
        raise Trouble(f"waited {seconds} s for {what}")

    def walk(self, node=None, visible=True, depth=0):
        node = node or self.app
        yield node
        if depth > 60:
            return
        for i in range(node.get_child_count()):
            child = node.get_child_at_index(i)
            if child is None:
                continue
            if visible and not child.get_state_set().contains(Atspi.StateType.VISIBLE):
                continue
            yield from self.walk(child, visible, depth + 1)

    def look(self, name, role=None):
        """The first visible thing with this accessible name (or pattern)."""
        for node in self.walk():
            try:
                own = node.get_name() or ""
                matches = name.search(own) if hasattr(name, "search") else own == name
                if matches and (role is None or node.get_role_name() == role):
                    return node
            except GLib.Error:
                continue
        return None

    def see(self, name, role=None, seconds=10):
        return self.wait(lambda: self.look(name, role), seconds, f"“{getattr(name, 'pattern', name)}” to show")

    def drawing(self):
        return self.see("Drawing")

    def words(self):
        """What the drawing says of itself."""
        return self.drawing().get_description() or ""

    def origin(self):
        # Which X window is ours: the visible one of our process.
        out = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(self.process.pid)],
                             capture_output=True, text=True).stdout.split()
        geometry = [subprocess.run(["xdotool", "getwindowgeometry", "--shell", w], capture_output=True,
                                   text=True).stdout for w in out]
        boxes = [{k: int(v) for k, v in re.findall(r"(X|Y|WIDTH|HEIGHT)=(-?\d+)", g)} for g in geometry]
        return max(boxes, key=lambda b: b["WIDTH"] * b["HEIGHT"])

    def place(self, node):
        box = node.get_component_iface().get_extents(Atspi.CoordType.WINDOW)
        origin = self.origin()
        # Places are told inside the border that a window draws itself where nothing composites.
        whole = self.window.get_component_iface().get_extents(Atspi.CoordType.WINDOW)
        x = origin["X"] + max(0, origin["WIDTH"] - whole.width) // 2
        y = origin["Y"] + max(0, origin["HEIGHT"] - whole.height) // 2
        return x + box.x, y + box.y, box.width, box.height

    # Doing.

    def xdo(self, *words):
        subprocess.run(["xdotool", *[str(w) for w in words]], check=True)

    def press(self, name, role=None, seconds=10):
        """Presses a button, tab or entry by its name, as assistive technology does."""
        node = self.see(name, role, seconds)
        self.actions += 1
        action = node.get_action_iface()
        if action is None or action.get_n_actions() == 0:
            x, y, w, h = self.place(node)
            self.xdo("mousemove", x + w // 2, y + h // 2, "click", 1)
        else:
            action.do_action(0)
        time.sleep(0.25)
        return node

    def click(self, x, y, times=1, button=1, modifier=None):
        self.actions += 1
        self.xdo("mousemove", round(x), round(y))
        time.sleep(0.08)
        if modifier:
            self.xdo("keydown", modifier)
        for _ in range(times):
            self.xdo("click", button)
        if modifier:
            self.xdo("keyup", modifier)
        time.sleep(0.15 if times > 1 else 0.5)

    def drag(self, points, button=1):
        self.actions += 1
        self.xdo("mousemove", round(points[0][0]), round(points[0][1]), "mousedown", button)
        for a, b in zip(points, points[1:]):
            for i in range(1, 9):
                self.xdo("mousemove", round(a[0] + (b[0] - a[0]) * i / 8), round(a[1] + (b[1] - a[1]) * i / 8))
                time.sleep(0.01)
        self.xdo("mouseup", button)
        time.sleep(0.4)

    def key(self, *keys):
        self.actions += 1
        self.xdo("key", "--delay", 40, *keys)
        time.sleep(0.3)

    def type(self, name, text, enter=True, seconds=10):
        """Types into the field with this name."""
        node = self.wait(lambda: self.look(name, "text") or self.look(name, "entry"), seconds,
                         f"a field “{getattr(name, 'pattern', name)}”")
        self.actions += 1
        x, y, w, h = self.place(node)
        self.xdo("mousemove", x + w // 2, y + h // 2, "click", 1)
        time.sleep(0.2)
        editable = node.get_editable_text_iface()
        if editable is None:
            raise Trouble(f"“{name}” cannot be typed into")
        editable.set_text_contents(text)
        time.sleep(0.1)
        if enter:
            self.xdo("key", "Return")
        time.sleep(0.4)

    def choose_file(self, path):
        """The toolkit's file chooser: type the path, Enter."""
        self.actions += 1
        time.sleep(1.0)
        self.xdo("key", "ctrl+a")
        self.xdo("type", "--delay", 8, path)
        time.sleep(0.8)
        self.xdo("key", "Return")
        time.sleep(0.6)

    def shot(self, path):
        subprocess.run(["import", "-window", "root", path], check=False)

    def kill(self):
        self.process.kill()
        self.process.wait()

    def leave(self):
        self.key("ctrl+q")
        try:
            return self.process.wait(10)
        except subprocess.TimeoutExpired:
            self.kill()
            raise Trouble("the program did not quit")


def read_json(path):
    with open(path) as file:
        return json.load(file)
