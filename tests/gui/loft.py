#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The loft in feet and inches, from nothing, in one sitting: every figure typed as it is read off the tape.

The room is begun with a pointer, all the rest is done by keys: Tab to the field, what is typed, Tab out of it. What
comes out is held against tests/data/story/loft-feet.plumbeam, which says the same in metres: the command line has to
say the same verdict of the same thing for both, and the window the same counts. Most names and the remarks of the
file are not typed; ids are, for they name the subjects.
"""
import json
import os
import re
import subprocess
import sys
import time

from driver import Trouble, Window, run, wait, xdo
from gi.repository import Atspi

SOURCE = os.environ["PLUMB_SOURCE_DIR"]
STORY = os.path.join(SOURCE, "tests", "data", "story", "loft-feet.plumbeam")

# Sections of the form in the order of the work: what the sign adds, then one list of (field, what is typed or chosen)
# for each record. True: the box is ticked. The fields stand in the form's own order.
ROOM = [
    ("tape or meter", [[("Id", "steel"), ("Error", "1/16"), ("Means", "never further off than this")]]),
    ("ceiling plane", [
        [("Id", "flat"), ("Measured at x", "4' 2\""), ("Measured at y", "8' 4\""), ("Height", "8' 2 1/4\"")],
        [("Id", "slope"), ("Measured at x", "11' 9 1/2\""), ("Measured at y", "8' 4\""), ("Height", "4' 10 1/4\""),
         ("Slope", "45"), ("Rises towards", "180")],
    ]),
    ("structure", [
        [("Id", "tie"), ("Kind", "tie beam"), ("From x", "0"), ("From y", "9' 11\""), ("From level", "6' 8\""),
         ("To x", "10' 5 1/4\""), ("To y", "9' 11\""), ("To level", "6' 8\""), ("Width", "5 1/2"), ("Depth", "7\""),
         ("Stands in the room", True), ("Found", True)],
        [("Id", "joists"), ("Kind", "joist"), ("From x", "5' 10 3/4\""), ("From y", "1' 2\""),
         ("From level", "8' 2 3/4\""), ("To x", "0"), ("To y", "14 in"), ("To level", "8' 2 3/4\""),
         ("Width", "1 1/2"), ("Depth", "5 1/2"), ("Count", "12"), ("Spacing", "16\""), ("Repeats towards", "90"),
         ("Found", True)],
    ]),
    ("limit set by the job", [[("Limit", "body.headroom_least"), ("Value", "1.8"),
                               ("Reason", "Both places are over furniture.")]]),
]
SCREEN = [
    ("screen", [[("Id", "screen"), ("Carried", "on a wall"), ("Wall", "Picture wall"),
                 ("Across, from", "end of the wall"),
                 ("Across, to", "its nearer edge"), ("Across", "2' 6 3/4\""), ("Stand-off", "1 1/4"),
                 ("Lower edge", "3' 1/2\""), ("Width", "6' 8\""), ("Height", "45\"")]]),
]
HANGING = [
    ("mount", [[("Id", "tube"), ("Kind", "drop tube"), ("Least drop", "300 mm"), ("Greatest drop", "600 mm"),
                ("Pivot to holes", "30 mm"), ("Mass", "2.2"), ("Rated load", "12")]]),
]
SHIFT = [("Throw from", "front of the lens"), ("Lens shift", "both axes freely"), ("Shift up", "55"),
         ("Shift down", "55"), ("Shift left", "15"), ("Shift right", "15")]
MACHINE = [
    ("machine", [[("Id", "home"), ("Lens fitting", "home"), ("Panel, across", "1920"), ("Panel, down", "1080"),
                  ("Light output", "2600"), ("Body width", "410 mm"), ("Body height", "140 mm"),
                  ("Body depth", "310 mm"), ("Body centre, right", "0"), ("Body centre, forward", "-20 mm"),
                  ("Lens, right", "0"), ("Lens, up", "64 mm"), ("Lens, forward", "140 mm"),
                  ("Front feet, forward", "100 mm"), ("Feet", "12 mm"), ("Mass", "6.6")]]),
    ("lens", [
        [("Id", "short"), ("Lens fitting", "home"), ("Throw ratio, wide", "1.6"), ("Throw ratio, tele", "2"), *SHIFT,
         ("Focus, near", "1.2 m"), ("Focus, far", "12 m")],
        [("Id", "long"), ("Lens fitting", "home"), ("Throw ratio, wide", "2.1"), ("Throw ratio, tele", "2.9"), *SHIFT,
         ("Focus, near", "2 m"), ("Focus, far", "20 m")],
    ]),
    ("place", [
        [("Id", "hung"), ("Carried", "hung"), ("Body upside down", True), ("Along which wall", "Picture wall"),
         ("Along, from", "end of the wall"), ("Along", "5' 10 3/4\""), ("Off", "12' 7 1/2\""),
         ("Height, from", "down from the ceiling"), ("Which", "flat"), ("Height", "0"), ("Drop", "17 1/2 in")],
        [("Id", "shelf"), ("Carried", "standing"), ("Along which wall", "Rear wall"),
         ("Along, from", "start of the wall"),
         ("Along", "5' 10 3/4\""), ("Off which wall", "Picture wall"), ("Off", "15' 10 1/2\""),
         ("Height, from", "up from the floor"), ("Height", "5' 9 1/4\"")],
    ]),
    # The screen, the machine and the only mount there is are chosen already.
    ("arrangement", [
        [("Id", "hung-short"), ("Lens", "short"), ("Place", "hung"), ("Mount", "tube")],
        [("Id", "hung-long"), ("Lens", "long"), ("Place", "hung"), ("Mount", "tube")],
        [("Id", "shelf-short"), ("Lens", "short"), ("Place", "shelf")],
        [("Id", "shelf-long"), ("Lens", "long"), ("Place", "shelf")],
    ]),
]
PEOPLE = [
    ("row of seats", [[("Id", "sofa"), ("First eye x", "4' 3/4\""), ("First eye y", "6' 2\""), ("Faces", "90"),
                       ("Seats", "3"), ("Seat pitch", "22\""), ("Eye height", "3' 6\"")]]),
]
# Of the room that stands there at first, wall by wall: corner, what it is made of; then the rest of each.
CORNERS = [("0", "0", "stud wall"), ("11' 9 1/2\"", "0", "stud wall"), ("11' 9.5\"", "17' 2\"", "brick"),
           ("0", "17' 2\"", "stud wall")]
WALLS = [
    [("Id", "rear"), ("Name", "Rear wall"), ("Thickness", "4 1/2")],
    [("Id", "right"), ("Name", "Knee wall"), ("Thickness", "4 1/2")],
    [("Id", "picture"), ("Name", "Picture wall"), ("Thickness", "8 1/2"), ("Bump", "4 mm")],
    [("Id", "left"), ("Name", "Left wall"), ("Thickness", "4 1/2")],
]


def check(condition, what):
    if not condition:
        raise Trouble(what)


def command_line(path, *words):
    done = subprocess.run([os.environ["PLUMB_EXECUTABLE"], "check", path, *words, "--json"], capture_output=True,
                          text=True, timeout=60, check=False)
    check(done.returncode in (0, 1), f"check {path}: {done.stderr}")
    return json.loads(done.stdout)


def verdicts(report):
    return sorted((one["check"], one["subject"], one["verdict"]) for one in report["findings"])


class Typist:
    """Walks the form's page by Tab, as far as the list of what takes the keys says; looks again where it was wrong."""

    def __init__(self, window):
        self.window = window
        self.page = None
        self.stops = []
        self.typed = 0

    def turn(self, step, sign):
        """To a page of the form, known by a sign on it."""
        self.window.step(step)
        self.page = wait(lambda: next((pane for pane in self.window.frame.find_all("scroll pane")
                                       if any(True for _ in pane.find_all("push button", f"Add: {sign}"))), None),
                         f"the page {step}")
        self.window.settle(self.page)
        self.look()

    def look(self):
        """(section, name, what takes the keys, what has the name) in the order of Tab."""
        self.stops, section, outer = [], None, None
        for node in self.page.walk():
            if node.role == "combo box":
                outer = node
            if node.role not in ("text", "push button", "check box") or not node.shown:
                continue
            named = outer if node.role == "push button" and node.name == "GtkToggleButton" else node
            if named.name.startswith("Add: "):
                section = named.name.removeprefix("Add: ")
            if node.has_state(Atspi.StateType.SENSITIVE):
                self.stops.append((section, named.name, node, named))

    def index_of(self, section, name):
        pattern = re.compile(rf"(^|\s){re.escape(name)}(, [^,]*)?$")
        found = [i for i, stop in enumerate(self.stops)
                 if stop[0] == section and (stop[1] == name or pattern.search(stop[1]))
                 and (stop[3].role != "push button" or name.startswith("Add: "))]
        exact = [i for i in found if self.stops[i][1] == name]
        return (exact or found)[-1] if found else None

    def focused(self):
        return next((i for i, stop in enumerate(self.stops) if stop[2].has_state(Atspi.StateType.FOCUSED)), None)

    def go(self, section, name):
        """By Tab, or back by Shift and Tab."""
        for _ in range(6):
            target = self.index_of(section, name)
            if target is not None:
                node = self.stops[target][2]
                if node.has_state(Atspi.StateType.FOCUSED):
                    return self.stops[target]
                here = self.focused()
                check(here is not None, f"nothing of the form has the keys on the way to {section}, {name}")
                way = target - here
                xdo("key", "--delay", 8, *["Tab" if way > 0 else "shift+Tab"] * abs(way))
                try:
                    wait(lambda: node.has_state(Atspi.StateType.FOCUSED), "the keys", 0.6)
                    return self.stops[target]
                except Trouble:
                    pass
            self.look()
        raise Trouble(f"{section}: {name!r} is not reached by Tab from {self.focused()}; there are "
                      f"{[stop[1] for stop in self.stops if stop[0] == section]}")

    def choose(self, combo, words):
        def items():
            return [next(iter(item.find_all("label"))).name for item in combo.find_all("list item")]
        # The page scrolls to what has the keys, and a list opens where it is: not outside of the display.
        top, height = self.page.box[1], self.page.box[3]
        wait(lambda: top <= combo.box[1] and combo.box[1] + combo.box[3] <= top + height, f"{combo.name} in view")
        self.window.settle(combo)
        self.window.key("space")
        wait(lambda: words in items(), lambda: f"{words!r} in the list, there are {items()}", 5)
        xdo("key", "--delay", 8, "Home", *["Down"] * items().index(words), "Return")
        wait(lambda: words in [node.name for node in combo.find_all("label")], f"{words!r} chosen", 5)

    def put(self, section, name, value):
        _, _, node, named = self.go(section, name)
        if value is True:
            self.window.key("space")
            wait(lambda: node.has_state(Atspi.StateType.CHECKED), f"{name} ticked", 5)
        elif named.role == "combo box":
            if value not in [label.name for label in named.find_all("label")]:
                self.choose(named, value)
        else:
            xdo("key", "ctrl+a", "type", "--delay", 8, "--", value)
            # What is typed has arrived before the keys go elsewhere.
            wait(lambda: node.text == value, lambda: f"{value!r} in {name}, is {node.text!r}", 5)
        self.typed += 1

    def add(self, section, fields):
        self.look()
        self.go(section, f"Add: {section}")
        self.window.key("space")
        time.sleep(0.05)
        self.look()
        for name, value in fields:
            self.put(section, name, value)

    def all_of(self, sections):
        for section, records in sections:
            for fields in records:
                self.add(section, fields)


def begin(window):
    """A new job in feet and inches, with the four walls of a room."""
    typist = Typist(window)
    window.key("ctrl+n")
    wait(lambda: "New job" in window.frame.name, "a new job")
    window.step("Room")
    typist.turn("Room", "wall")
    window.click(window.frame.find("text", "Title"))
    window.type("The loft room")
    typist.look()
    for name, value in (("Units", "feet and inches"), ("Purpose", "home")):
        typist.put(None, name, value)
    room = window.frame.find("push button", "Add a four-walled room")
    window.settle(room)
    window.click(room)
    wait(lambda: typist.look() or typist.index_of("wall", "4 Start corner x") is not None, "four walls")
    # All of it was one step.
    window.key("ctrl+z")
    window.frame.find("push button", "Add a four-walled room")
    check("home" in typist.page.find("combo box", "Purpose").labels(), "what was put in before stays")
    window.key("ctrl+shift+z")
    wait(lambda: typist.look() or typist.index_of("wall", "4 Start corner x") is not None, "four walls again")
    return typist


def walls(typist):
    first = typist.window.frame.find("text", re.compile(r"^1 Start corner x"))
    typist.window.bring_into_view(first, typist.page)
    typist.window.click(first)
    typist.look()
    for number, (fields, corner) in enumerate(zip(WALLS, CORNERS), 1):
        for head, value in zip(("Start corner x", "Start corner y", "Construction"), corner):
            typist.put("wall", f"{number} {head}", value)
        typist.window.key("alt+Down")
        typist.look()
        for name, value in fields:
            typist.put("wall", name, value)
        typist.window.key("alt+Up")


def test_loft():
    """The loft is typed from nothing in feet and inches, and its verdicts are the file's."""
    begun = time.monotonic()
    wanted = command_line(STORY)
    with Window(STORY) as window:
        typist = begin(window)
        walls(typist)
        typist.all_of(ROOM)
        typist.put(None, "Usual tape", "steel")
        for step, sections in (("Screen", SCREEN), ("Hanging", HANGING), ("Machine and place", MACHINE),
                               ("People", PEOPLE)):
            typist.turn(step, sections[0][0])
            title = typist.page.find("push button", shown=True)
            window.click(title)  # gives the keys to the page; folds an empty section
            window.click(title)
            typist.look()
            typist.all_of(sections)
        window.key("Tab")
        path = save(window)
        got = command_line(path)
        print(f"# {typist.typed} fields in {time.monotonic() - begun:.0f} s", flush=True)
        differ = set(verdicts(got)) ^ set(verdicts(wanted))
        check(not differ, f"verdicts that differ: {sorted(differ)}")
        check(len(got["findings"]) == len(wanted["findings"]), "as many findings")
        want = {key: int(value) for key, value in wanted["counts"].items()}
        wait(lambda: window.counts() == want, lambda: f"the window to count {want}, counts {window.counts()}")
        saved = json.loads(open(path, encoding="utf-8").read())
        check(any(one.get("slope_deg") == 45 for one in saved["ceilings"]), "a sloped ceiling")
        check(len(saved["places"]) == 2, "two places")
        strip = window.frame.find("page tab list", "Arrangements")
        for arrangement in saved["arrangements"]:
            verdict = command_line(path, "--arrangement", arrangement["id"])["verdict"]
            check(verdict == command_line(STORY, "--arrangement", arrangement["id"])["verdict"],
                  f"{arrangement['id']} as in the file")
            check(any(verdict in tab.name or verdict in " ".join(tab.labels()) or
                      any(node.name == verdict for node in tab.walk())
                      for tab in strip.find_all("page tab") if arrangement["id"] in tab.name),
                  f"the tab of {arrangement['id']} says {verdict}")


def save(window):
    """Under a name of its own, by the dialog."""
    path = os.path.join(window.folder, "typed.plumbeam")
    window.key("ctrl+s")
    dialog = wait(lambda: next(iter(window.others()), None), "the dialog")
    wait(lambda: not window.has_focus() and any(node.has_state(Atspi.StateType.FOCUSED) for node in dialog.walk()),
         "the dialog to take the keys")
    window.key("ctrl+a")
    window.type(path)
    window.key("Return")
    wait(lambda: os.path.exists(path), f"{path} to be written")
    return path


if __name__ == "__main__":
    words = sys.argv[1:]
    cases = [value for name, value in list(globals().items()) if name.startswith("test_")]
    sys.exit(run([case for case in cases if not words or any(word in case.__name__ for word in words)]))
