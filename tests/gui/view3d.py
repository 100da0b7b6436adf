#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The 3D pane in use, by real keys and pointer. What is seen is read from the display itself."""
import os
import re
import subprocess
import sys

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi  # noqa: E402

import numpy  # noqa: E402

from driver import Window, run, wait, xdo  # noqa: E402
from window import machine_in, screen  # noqa: E402

SOURCE = os.environ["PLUMB_SOURCE_DIR"]
NET_LOFT = os.path.join(SOURCE, "data", "demo", "net-loft.plumbeam")


def view(window):
    return window.frame.find("image", re.compile(r"^3D view of the room"))


def seen(window):
    """The pixels of the view, as they are on the display, with the pointer out of the way."""
    window.rest()
    wait(lambda: not view(window).has_state(Atspi.StateType.BUSY), "the last picture")
    window.rest()
    node = view(window)
    (x, y), (width, height) = window.place_of(node, 0, 0), node.box[2:]
    raw = subprocess.run(["import", "-window", "root", "-crop", f"{width}x{height}+{x}+{y}", "-depth", "8", "rgb:-"],
                         capture_output=True, check=True, timeout=60).stdout
    return numpy.frombuffer(raw, numpy.uint8).reshape(height, width, 3).astype(int)


def differs(a, b):
    return float((numpy.abs(a - b).max(axis=2) > 12).mean())


def undo_button(window):
    return next(node for node in window.frame.find_all("push button") if node.name.startswith("Undo"))


def chosen(window):
    found = re.search(r"Chosen: (.*)\.$", view(window).name)
    return found.group(1) if found else None


def choose_nothing(window):
    window.click(window.drawing(), 0.02, 0.98)
    wait(lambda: chosen(window) is None, lambda: f"nothing chosen, is {chosen(window)!r}")


def machine_point(window):
    """Where the machine is in the view, across and down: chosen in the plan, it gets a mark and a label above it."""
    choose_nothing(window)
    before = seen(window)
    drawing = window.drawing()
    x, y = machine_in(screen(window, drawing))
    window.click(drawing, x / drawing.box[2], y / drawing.box[3])
    wait(lambda: chosen(window) == "Tie beam T2", lambda: f"the place chosen, is {chosen(window)!r}")
    marked = numpy.argwhere(numpy.abs(seen(window) - before).max(axis=2) > 40)
    assert len(marked) > 20, f"a mark round the machine: {len(marked)} pixels"
    lowest = marked[:, 0].max()
    across = marked[marked[:, 0] > lowest - 4][:, 1].mean()
    height, width = before.shape[:2]
    for up in (6, 9, 12, 16, 20):
        choose_nothing(window)
        window.click(view(window), across / width, (lowest - up) / height)
        window.rest()
        if chosen(window) == "Tie beam T2":
            return across / width, (lowest - up) / height
    raise AssertionError("no click chose the machine")


def test_orbit():
    """A drag beside everything walks round the room; Home brings the same picture back."""
    with Window(NET_LOFT) as window:
        before = seen(window)
        assert before.std() > 5, "a picture of a room"
        window.drag(window.place_of(view(window), 0.04, 0.04), (120, 10))
        after = seen(window)
        assert differs(before, after) > 0.05, differs(before, after)
        assert not undo_button(window).has_state(Atspi.StateType.SENSITIVE), "looking is no step of the history"
        window.key("Home")
        assert differs(before, seen(window)) == 0.0, differs(before, seen(window))
        xdo("mousemove", *window.place_of(view(window), 0.5, 0.5))
        xdo("click", "--repeat", 3, "--delay", 60, 4)
        assert differs(before, seen(window)) > 0.05, "the wheel zooms"


def test_places():
    """The words of the head look from elsewhere; by keyboard too."""
    with Window(NET_LOFT) as window:
        before = seen(window)
        for word, says in (("From the lens", "from the lens"), ("At the screen", "straight at the screen"),
                           ("From a seat", "from seat row"), ("Room", "cut open")):
            window.click(window.frame.find("push button", word))
            wait(lambda words=says: words in view(window).name, lambda: f"{says!r}, is {view(window).name!r}")
            assert (differs(before, seen(window)) > 0.05) == (word != "Room"), word
        view_node = view(window)
        window.click(view_node, 0.03, 0.03)
        wait(lambda: view_node.has_state(Atspi.StateType.FOCUSED), "the view to take the keys")
        window.key("Right", "Up", "plus")
        assert differs(before, seen(window)) > 0.05, "arrows walk round"


def test_click_and_drag():
    """A click on the machine selects it in the form; a drag moves it, and one undo returns it."""
    with Window(NET_LOFT) as window:
        across, down = machine_point(window)
        choose_nothing(window)
        window.step("Room")
        window.click(view(window), across, down)
        wait(lambda: chosen(window) == "Tie beam T2", lambda: f"the place chosen, is {chosen(window)!r}")
        assert window.field("Drop").text == "0.110", "the form has turned to the place"
        along, off = window.field("Along").text, window.field("Off").text
        before = seen(window)
        window.drag(window.place_of(view(window), across, down), (50, 20))
        wait(lambda: (window.field("Along").text, window.field("Off").text) != (along, off),
             "the machine to move")
        wait(lambda: undo_button(window).has_state(Atspi.StateType.SENSITIVE), "a step to undo")
        assert differs(before, seen(window)) > 0.001
        window.click(undo_button(window))
        wait(lambda: (window.field("Along").text, window.field("Off").text) == (along, off),
             lambda: f"{along}, {off} again, is {window.field('Along that wall').text}, {window.field('Off').text}")
        wait(lambda: not undo_button(window).has_state(Atspi.StateType.SENSITIVE), "one step in all")
        assert differs(before, seen(window)) == 0.0, differs(before, seen(window))


def test_without_gl():
    """Without OpenGL the pane says why and draws the picture; machine and findings work as ever."""
    with Window(NET_LOFT, with_gl=False) as window:
        window.frame.find("label", re.compile(r"^No 3D here: .+\. The rest works\.$"))
        window.frame.find("image", re.compile(r"^Picture, "))
        for word in ("Room", "From the lens", "At the screen", "From a seat"):
            button = window.frame.find("push button", word)
            assert not button.has_state(Atspi.StateType.SENSITIVE), word
        window.fill("Drop", "0.15 m")
        wait(lambda: window.field("Drop").text == "0.150", "the field")
        assert window.findings(), "the findings"


def test_menu():
    """What is shown is chosen by keyboard from the pane's menu."""
    with Window(NET_LOFT) as window:
        before = seen(window)
        # The drawing beside it has a menu of the same name.
        window.click(max(window.frame.find_all("push button", "Shown"), key=lambda node: node.box[0]))
        wait(lambda: any(node.shown for node in window.frame.find_all(None, re.compile("Of all seats$"))), "the menu")
        window.key("l")
        wait(lambda: not any(node.shown for node in window.frame.find_all(None, re.compile("Of all seats$"))),
             "the menu to close")
        assert differs(before, seen(window)) > 0.001, "sightlines"


def show_of(window):
    return next((node for node in window.others() if node.role == "dialog" and node.name.endswith("Show") and node.shown),
                None)


def shows(window):
    """Names of what the view by itself holds; none when it is not there."""
    show = show_of(window)
    return [node.name for node in show.walk() if node.shown] if show is not None else []


def test_show():
    """F11 shows the view alone, with light and places; Shift+F11 before and after; Escape leaves."""
    with Window(NET_LOFT) as window:
        seen(window)
        window.key("F11")
        wait(lambda: "From the lens" in shows(window), lambda: f"the view by itself, is {shows(window)}")
        names = shows(window)
        assert "film" in names and "before" not in names, names
        assert any(name.startswith("3D view of the room, cut open") for name in names), names
        # It fills the display but for its foot.
        show = show_of(window)
        view_node = show.find("image", re.compile("^3D view"))
        assert view_node.box[2] == show.box[2] and view_node.box[3] > show.box[3] - 120, (view_node.box, show.box)
        xdo("key", "Escape")
        wait(lambda: not shows(window), lambda: f"the show to end, is {shows(window)}")
        window.key("shift+F11")
        wait(lambda: "after" in shows(window) and "before" in shows(window), lambda: f"both, is {shows(window)}")
        wait(lambda: sum(name.startswith("3D view") for name in shows(window)) == 2, "two views")
        xdo("key", "F11")
        wait(lambda: not shows(window), "the show to end")


if __name__ == "__main__":
    wanted = sys.argv[1:]
    tests = [value for name, value in list(globals().items()) if name.startswith("test_")]
    sys.exit(run([test for test in tests if not wanted or any(word in test.__name__ for word in wanted)]))
