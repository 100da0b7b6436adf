#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The window in use, by real keys and pointer. Where a figure is expected, it is the command line's."""
import json
import os
import re
import subprocess
import sys

import numpy

from driver import Trouble, Window, run, wait, xdo
from gi.repository import Atspi

SOURCE = os.environ["PLUMB_SOURCE_DIR"]
NET_LOFT = os.path.join(SOURCE, "data", "demo", "net-loft.plumbeam")
MUSIC_ROOM = os.path.join(SOURCE, "data", "demo", "music-room.plumbeam")
# The accent of the light theme, which the machine in use is drawn in (the table of colours in src/draw/theme.c).
ACCENT = (0x5E, 0x2F, 0x73)


def check(condition, what):
    if not condition:
        raise Trouble(what)


def same(got, wanted, what):
    check(got == wanted, f"{what}: got {got!r}, wanted {wanted!r}")


def command_line(*words):
    """What `check --json` says."""
    done = subprocess.run([os.environ["PLUMB_EXECUTABLE"], "check", *words, "--json"], capture_output=True, text=True,
                          timeout=60, check=False)
    check(done.returncode in (0, 1), f"check {words}: {done.stderr}")
    return json.loads(done.stdout)


def counts(report):
    return {key: int(value) for key, value in report["counts"].items()}


def read(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def screen(window, node):
    """The pixels of a widget as they are on the display, height × width × 3."""
    x, y = window.place_of(node, 0, 0)
    width, height = node.box[2:]
    raw = subprocess.run(["import", "-window", "root", "-crop", f"{width}x{height}+{x}+{y}", "-depth", "8", "rgb:-"],
                         capture_output=True, check=True, timeout=60).stdout
    check(len(raw) == width * height * 3, f"a picture of {len(raw)} bytes for {width}×{height}")
    return numpy.frombuffer(raw, dtype=numpy.uint8).reshape(height, width, 3)


def machine_in(pixels):
    """Middle of the machine in a drawing: the place with most of the accent within 12 px."""
    mask = (numpy.abs(pixels.astype(int) - ACCENT).max(axis=2) < 24).astype(float)
    check(mask.sum() > 20, "nothing in the drawing has the accent's colour")
    reach = 12
    total = numpy.pad(mask, reach + 1).cumsum(axis=0).cumsum(axis=1)
    size = 2 * reach + 1
    near = total[size:, size:] - total[:-size, size:] - total[size:, :-size] + total[:-size, :-size]
    near = near[:mask.shape[0], :mask.shape[1]]
    ys, xs = numpy.nonzero(near >= near.max() - 0.5)
    return int(xs.mean()), int(ys.mean())


def printed(message):
    """A pattern for a plain sentence as it stands in the window, with its own spaces and signs."""
    return re.compile("^" + re.escape(message).replace("\\ ", r"[\s\u202f]").replace("\\-", "[-−]") + "$")


def trouble(window, pattern):
    """The strip that says what went wrong."""
    return window.frame.find("alert", re.compile(pattern))


def title(window):
    return window.frame.name


# ---- opening -------------------------------------------------------------------------------------------


def opens(path, name):
    with Window(path) as window:
        wait(lambda: name in title(window), lambda: f"the title {name!r}, is {title(window)!r}")
        report = command_line(path)
        wait(lambda: window.counts() == counts(report),
             f"the counts of the command line {counts(report)}, are {window.counts()}")
        worst = report["findings"][0]
        first = window.findings()[0]
        check(first.startswith(worst["verdict"] + ". "), lambda: f"the worst finding is first: {first!r}")
        check(window.drawing().name.startswith("Plan"), "the plan is drawn")


def test_net_loft():
    """The window opens on the demo in metres with the command line's findings."""
    opens(NET_LOFT, json.loads(read(NET_LOFT))["job"]["title"])


def test_music_room():
    """The window opens on the demo in feet and inches with the command line's findings."""
    opens(MUSIC_ROOM, json.loads(read(MUSIC_ROOM))["job"]["title"])


# ---- editing ----------------------------------------------------------------------------------------------


def test_typing():
    """A field is typed over; findings and drawing follow, undo brings it back, the file reads back equal."""
    with Window(NET_LOFT) as window:
        original = read(window.path)
        before = (window.counts(), window.findings())
        # The plan does not show how high a machine hangs.
        window.click(window.frame.find("push button", "Picture"))
        picture = window.frame.find("image", re.compile("^Picture, "))
        window.rest()
        drawn = screen(window, picture)
        drop = window.field("Drop")
        old = drop.text
        window.fill("Drop", "25 cm")
        wait(lambda: window.findings() != before[1], "the findings to follow")
        wanted = command_line(NET_LOFT, "--set", "places.a.drop_m=0.25")
        wait(lambda: window.counts() == counts(wanted), lambda: f"the counts {counts(wanted)}, are {window.counts()}")
        same(drop.text, "0.250", "the field shows metres")
        wait(lambda: (screen(window, picture) != drawn).any(), "the drawing to follow")

        window.key("ctrl+z")
        wait(lambda: (window.counts(), window.findings()) == before, "undo to bring the findings back")
        wait(lambda: drop.text == old, lambda: f"undo to bring {old!r} back, is {drop.text!r}")
        wait(lambda: (screen(window, picture) == drawn).all(), "undo to bring the drawing back")

        window.key("ctrl+shift+z")
        wait(lambda: drop.text == "0.250", "redo")
        window.key("ctrl+s")
        wait(lambda: read(window.path) != original, "the file to be saved")
        saved = read(window.path)
        changed = [(a, b) for a, b in zip(original.splitlines(), saved.splitlines()) if a != b]
        same(len(original.splitlines()), len(saved.splitlines()), "lines of the file")
        same(len(changed), 1, lambda: f"lines that differ, {changed}")
        same(command_line(window.path)["figures"], wanted["figures"], "the figures of the saved file")


def test_nonsense():
    """A wrong entry keeps what was typed, says what is wrong and changes nothing."""
    with Window(NET_LOFT) as window:
        before = window.findings()
        window.fill("Drop", "200 m")
        drop = window.field("Drop")
        wait(lambda: any(re.search(r"at most 20\b|above 20\b", label) for label in window.form().labels()),
             f"a sentence below the field, there are {window.form().labels()}")
        same(drop.text, "200 m", "the typed text")
        same(window.findings(), before, "the findings")


def test_drag():
    """A drag in the plan moves the machine, and one undo returns it."""
    with Window(NET_LOFT) as window:
        drawing = window.drawing()
        words = drawing.name
        off = window.frame.find("text", "Off", shown=False)
        old = off.text
        x, y = machine_in(screen(window, drawing))
        width, height = drawing.box[2], drawing.box[3]
        start = window.place_of(drawing, x / width, y / height)
        window.drag(start, (0, 46))
        wait(lambda: off.text != old, "the measure off the wall to change")
        wait(lambda: drawing.name != words, "the words of the drawing to change")
        moved = float(off.text) - float(old)
        check(moved > 0.2, lambda: f"dragged away from the picture at the top: {moved} m")
        window.key("ctrl+z")
        wait(lambda: off.text == old, lambda: f"one undo to return the machine to {old}, is at {off.text}")
        wait(lambda: drawing.name.startswith(words), lambda: f"the words {words!r}, are {drawing.name!r}")
        undo = next(node for node in window.frame.find_all("push button") if node.name.startswith("Undo"))
        check(not undo.has_state(Atspi.StateType.SENSITIVE), "nothing is left to undo")


def tab_names(window):
    strip = window.frame.find("page tab list", "Arrangements")
    tabs = [node for node in strip.find_all("page tab") if node.shown]
    return [node.name for node in sorted(tabs, key=lambda node: node.box[0])]


def test_drag_of_tabs():
    """A tab dragged past its neighbour, and a new arrangement by its sign, are one step of undo each."""
    with Window(NET_LOFT) as window:
        before = tab_names(window)
        check(len(before) > 1, f"tabs: {before}")
        strip = window.frame.find("page tab list", "Arrangements")
        tabs = sorted((node for node in strip.find_all("page tab") if node.shown), key=lambda node: node.box[0])
        at = next(i for i, tab in enumerate(tabs) if tab.has_state(Atspi.StateType.SELECTED))
        over = at + 1 if at + 1 < len(tabs) else at - 1
        target = tabs[over].box[0] + tabs[over].box[2] * (0.8 if over > at else 0.2)
        way = target - tabs[at].box[0] - tabs[at].box[2] / 2
        window.drag(window.place_of(tabs[at]), (way, 0))
        wait(lambda: tab_names(window) != before, "the order to change")
        same(sorted(name.split(",")[0] for name in tab_names(window)), sorted(name.split(",")[0] for name in before),
             "the tabs")
        window.key("ctrl+z")
        wait(lambda: tab_names(window) == before, lambda: f"one undo to bring {before} back, is {tab_names(window)}")

        window.click(strip.find("push button", "Copy this arrangement"))
        wait(lambda: len(tab_names(window)) == len(before) + 1, "one arrangement more")
        window.key("ctrl+z")
        wait(lambda: tab_names(window) == before, lambda: f"one undo to bring {before} back, is {tab_names(window)}")
        undo = next(node for node in window.frame.find_all("push button") if node.name.startswith("Undo"))
        check(not undo.has_state(Atspi.StateType.SENSITIVE), "nothing is left to undo")


def test_wrong_entry_is_kept():
    """What a field refused is there again after another record was looked at."""
    with Window(NET_LOFT) as window:
        window.fill("Drop", "200 m")
        tape = window.frame.find("page tab list", "Arrangements")
        tabs = [node for node in tape.find_all("page tab") if node.shown]
        places = [one["place"] for one in json.loads(read(NET_LOFT))["arrangements"]]
        now = next(i for i, tab in enumerate(tabs) if tab.has_state(Atspi.StateType.SELECTED))
        other = next(i for i, place in enumerate(places) if place != places[now])
        window.click(tabs[other])
        drop = window.frame.find("text", "Drop", shown=False)
        wait(lambda: drop.text != "200 m", "the other place's own figure")
        window.click(tabs[now])
        wait(lambda: drop.text == "200 m", lambda: f"what was typed, is {drop.text!r}")


# ---- files ------------------------------------------------------------------------------------------------


def open_by_keys(window, path):
    """Through the dialog: typing a slash gives a line for the path."""
    window.key("ctrl+o")
    dialog = wait(lambda: next(iter(window.others()), None), "the dialog")
    wait(lambda: not window.has_focus() and any(node.has_state(Atspi.StateType.FOCUSED) for node in dialog.walk()),
         "the dialog to take the keys")
    window.type("/")
    line = wait(lambda: next((node for node in dialog.find_all("text") if node.shown and node.text == "/"), None),
                "a line for the path")
    window.type(path[1:])
    wait(lambda: line.text == path, lambda: f"the path {path!r}, is {line.text!r}")
    window.key("Return")


def test_broken():
    """A broken file is refused with its sentence, and the open job stays."""
    with Window(NET_LOFT) as window:
        name, before = title(window), window.findings()
        broken = os.path.join(window.folder, "broken.plumbeam")
        with open(broken, "w", encoding="utf-8") as file:
            file.write(read(NET_LOFT).replace('"height_m": 0.2', '"height_m": "high"', 1))
        refused = subprocess.run([os.environ["PLUMB_EXECUTABLE"], "check", broken], capture_output=True, text=True,
                                 timeout=60, check=False)
        same(refused.returncode, 2, "the command line refuses it")
        place = re.search(r"\w+\[\d+\]\.height_m", refused.stderr)
        check(place is not None, f"the command line names the place: {refused.stderr!r}")
        open_by_keys(window, broken)
        said = trouble(window, re.escape(place.group()))
        check("broken.plumbeam" in said.name, f"the file is named: {said.name!r}")
        same(title(window), name, "the title")
        same(window.findings(), before, "the findings")


def test_other_file():
    """Another job is opened through the dialog."""
    with Window(NET_LOFT) as window:
        open_by_keys(window, MUSIC_ROOM)
        name = json.loads(read(MUSIC_ROOM))["job"]["title"]
        wait(lambda: name in title(window), lambda: f"the title {name!r}, is {title(window)!r}")


def test_changed_on_disc():
    """A file changed by another program is noticed, and read again when asked."""
    with Window(NET_LOFT) as window:
        text = read(window.path).replace('"title": "', '"title": "Changed: ', 1)
        with open(window.path + ".new", "w", encoding="utf-8") as file:
            file.write(text)
        os.replace(window.path + ".new", window.path)
        strip = trouble(window, "changed by another program")
        check("Changed:" not in title(window), "nothing is read unasked")
        window.click(strip.find("push button", re.compile("Read it again")))
        wait(lambda: "Changed:" in title(window), lambda: f"the new title, is {title(window)!r}")


def test_papers():
    """The survey sheet from the page of papers; pdftotext (poppler-utils) reads what was written."""
    with Window(NET_LOFT) as window:
        window.step("Papers")
        window.click(window.frame.find(None, "Survey sheet…"))
        dialog = wait(lambda: next(iter(window.others()), None), "the dialog")
        line = wait(lambda: next((node for node in dialog.find_all("text") if node.text == "survey.pdf"
                                  and node.has_state(Atspi.StateType.FOCUSED)), None), "the dialog to take the keys")
        path = os.path.join(window.folder, "blank.pdf")
        window.key("ctrl+a")
        window.type(path)
        wait(lambda: line.text == path, "the path to be typed")
        window.key("Return")
        wait(lambda: os.path.exists(path), "the survey sheet to be written")
        text = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True, timeout=60).stdout
        check("Survey: Loft" in text and "behind it" in text, f"the sheet says {text[:200]!r}")
        check("Plan, seen from above" not in text, "the survey sheet holds other sheets")
        wait(window.has_focus, "the window to have the keys again")


def test_closing():
    """The window closes without a question; what was not saved is offered at the next start."""
    with Window(NET_LOFT, with_gl=False) as window:
        original = read(window.path)
        window.fill("Drop", "0.15 m")
        wait(lambda: window.field("Drop").text == "0.150", "the field")
        window.quit()
        same(read(window.path), original, "the file")
        window.start()
        strip = trouble(window, "not saved|kept")
        same(window.field("Drop").text, "0.110", "the file is opened as it is")
        window.click(strip.find("push button", re.compile("Open the copy")))
        wait(lambda: window.field("Drop").text == "0.150", "the copy")
        window.key("ctrl+s")
        wait(lambda: read(window.path) != original, "the file to be saved")
        window.quit()


# ---- findings ----------------------------------------------------------------------------------------------------


def test_second_start():
    """A second start hands its job to the first, whose window then shows it, and ends."""
    with Window(NET_LOFT) as window:
        second = subprocess.run([os.environ["PLUMB_EXECUTABLE"], MUSIC_ROOM], env=window.environment, timeout=60,
                                capture_output=True, text=True, check=False)
        same(second.returncode, 0, lambda: f"the second start ends well: {second.stderr}")
        name = json.loads(read(MUSIC_ROOM))["job"]["title"]
        wait(lambda: name in title(window), lambda: f"the title {name!r}, is {title(window)!r}")
        wait(window.has_focus, "the first window to be in front")


def test_drop():
    """A file dragged from another program onto the window is opened."""
    with Window(NET_LOFT) as window:
        source = os.path.join(os.path.dirname(os.path.abspath(__file__)), "drag-source.py")
        with subprocess.Popen([sys.executable, source, MUSIC_ROOM]) as other:
            try:
                number = xdo("search", "--sync", "--onlyvisible", "--name", "^drag source$").split()[-1]
                xdo("windowactivate", "--sync", number)
                xdo("windowmove", "--sync", number, 1285, 600)
                place = window._geometry(number)
                start = (place["X"] + place["WIDTH"] // 2, place["Y"] + place["HEIGHT"] * 2 // 3)
                end = window.place_of(window.drawing())
                window.drag(start, (end[0] - start[0], end[1] - start[1]), steps=30)
                name = json.loads(read(MUSIC_ROOM))["job"]["title"]
                wait(lambda: name in title(window), lambda: f"the title {name!r}, is {title(window)!r}")
            finally:
                other.terminate()


def finding_row(window, pattern):
    lists = window.frame.find("list", "Findings, worst first")
    return lists.find("list item", re.compile(pattern))


def test_choosing_a_finding():
    """A chosen finding turns the form to its page and says its basis; filter and fold leave what they say."""
    with Window(NET_LOFT) as window:
        window.step("Room")
        report = command_line(NET_LOFT)
        first = report["findings"][0]
        row = finding_row(window, "^" + first["verdict"])
        window.click(row)
        wait(lambda: any(label.startswith("Basis: ") or "Basis: " in label for label in row.labels()), "the basis")
        check(any(first["source"] in label for label in row.labels()), lambda: f"the full basis: {row.labels()}")
        page = window.frame.find("page tab list", "Steps")
        wait(lambda: any(tab.has_state(Atspi.StateType.SELECTED) and "Room" not in tab.name
                         for tab in page.find_all("page tab")) or
             json.dumps(report["findings"][0]["subject"]).startswith('"structure'), "the form to turn to its page")

        toggles = window.frame.find("panel", "Show only these verdicts")
        tight = next(node for node in toggles.walk() if node.role in ("toggle button", "push button")
                     and any("tight" in child.name for child in node.walk()))
        window.click(tight)
        wait(lambda: all(name.startswith("tight. ") for name in window.findings()), "only what is tight")
        same(len(window.findings()), counts(report)["tight"], "the lines left")
        window.click(tight)
        wait(lambda: len(window.findings()) > counts(report)["tight"], "all again")

        window.click(window.frame.find("push button", re.compile("Fold the findings$")))
        wait(lambda: not any(node.shown for node in window.frame.find_all("list", "Findings, worst first")), "the fold")
        same(window.counts(), counts(report), "the counts of the folded line")
        window.click(window.frame.find("push button", re.compile("Unfold the findings$")))
        window.frame.find("list", "Findings, worst first")


def test_finding_by_keyboard():
    """The findings are walked by arrow keys, and each chosen one is selected."""
    with Window(NET_LOFT) as window:
        lists = window.frame.find("list", "Findings, worst first")
        window.click(finding_row(window, "^fails"))
        items = [node for node in lists.children() if node.role == "list item"]
        wait(lambda: items[0].has_state(Atspi.StateType.SELECTED), "the clicked row")
        window.key("Down")
        wait(lambda: items[1].has_state(Atspi.StateType.SELECTED), "the next row by key")
        check(not items[0].has_state(Atspi.StateType.SELECTED), "one row at a time")


def test_compare():
    """Compare sets the figures of all arrangements side by side."""
    with Window(NET_LOFT) as window:
        window.click(window.frame.find("push button", re.compile("Compare$")))
        table = window.frame.find(None, "Arrangements side by side")
        job = json.loads(read(NET_LOFT))
        for arrangement in job["arrangements"]:
            table.find("label", arrangement["label"])
        labels = [node.name for node in table.find_all("label")]
        at = labels.index("Worst finding")
        wanted = [command_line(NET_LOFT, "--arrangement", one["id"])["verdict"] for one in job["arrangements"]]
        same(labels[at + 1:at + 1 + len(wanted)], wanted, "the worst verdict of each")


def cells(window):
    """Words of the rows of the table of seats that are made, without its heads."""
    table = window.frame.find("tree table", "Table of seats, one row for each")
    rows = [[label.name for label in row.find_all("label")] for row in table.find_all("table row")]
    return [row for row in rows if row and row[0] not in ("seat", "")]


def test_seats():
    """Seats stand worst first; a head turns the order, a row chooses its seat, keys bring back the order."""
    with Window(NET_LOFT) as window:
        report = command_line(NET_LOFT)
        heights = {seat["seat"]: f"{seat['distance_heights_ratio']:.2f}" for seat in report["seats"]}
        window.step("Room")
        window.click(window.frame.find(None, re.compile("Seats$")))
        rows = wait(lambda: (lambda got: got if len(got) == len(heights) else None)(cells(window)), "all seats")
        same(rows[0][1], "fails", "the worst first")
        check(all(row[1] in ("fails", "tight", "unknown", "holds") for row in rows), lambda: f"verdicts: {rows}")
        named = [row for row in rows if row[0] in heights]
        check(len(named) >= 18 and all(row[4] == heights[row[0]] for row in named), lambda: f"heights: {named}")

        table = window.frame.find("tree table", "Table of seats, one row for each")
        head = table.find("label", "distance\nheights")
        window.click(head)
        wait(lambda: [float(row[4]) for row in cells(window)] == sorted(float(row[4]) for row in rows),
             lambda: f"a click to put the nearest first: {cells(window)}")
        window.click(head)
        wait(lambda: [float(row[4]) for row in cells(window)] == sorted((float(row[4]) for row in rows), reverse=True),
             "another to put the farthest first")

        far = cells(window)[0][0]
        window.click(table.find("label", far))
        page = window.frame.find("page tab list", "Steps")
        wait(lambda: any(tab.has_state(Atspi.StateType.SELECTED) and "People" in tab.name
                         for tab in page.find_all("page tab")), "the form to turn to the people")

        window.click(window.frame.find(None, "Order of the seats"))
        window.key("Home", "Return")
        wait(lambda: cells(window) == rows, "the worst first again")
        window.click(window.frame.find("push button", re.compile("Copy$")))
        window.click(window.frame.find("push button", re.compile("Fold the findings$")))
        wait(lambda: not any(node.shown for node in window.frame.find_all("tree table")), "the fold")
        same(window.counts(), counts(report), "the counts of the folded line")


# ---- keys alone ------------------------------------------------------------------------------------------------------


def focused(window):
    """What has the keys."""
    return next((node for node in window.frame.walk() if node.has_state(Atspi.StateType.FOCUSED)), None)


def inside(node, part):
    return any(child.accessible == node.accessible for child in part.walk())


def test_keys_parts():
    """F6 leads round the window's parts and Shift+F6 back; arrows walk the steps, the strip and the findings."""
    with Window(NET_LOFT) as window:
        tape = window.frame.find("page tab list", "Steps")
        strip = window.frame.find("page tab list", "Arrangements")
        findings = window.frame.find("list", "Findings, worst first")
        drawing = window.drawing()
        window.step("Room")
        wait(lambda: focused(window) is not None and inside(focused(window), tape), "the tape to have the keys")

        window.key("Down")
        wait(lambda: focused(window).name.startswith("2 Screen"), "Down to turn to the next step")
        window.key("End")
        wait(lambda: focused(window).name.startswith("10 Papers"), "End to turn to the last")
        window.key("Home", "Down", "Down")
        wait(lambda: focused(window).name.startswith("3 Machine"), "Home and Down to turn to the third")

        edge = drawing.box[0]
        order = []
        for _ in range(5):
            window.key("F6")
            before = order[-1][0] if order else None
            here = wait(lambda: (lambda node: node if node is not None and node.accessible != before else None)(
                focused(window)), "F6 to lead elsewhere")
            order.append((here.accessible, here.box, inside(here, strip), inside(here, tape)))
        check(order[0][1][0] < edge and not order[0][3], lambda: f"F6 leads from the tape to the form: {order[0][1]}")
        check(order[1][2], "then to the strip")
        check(order[2][1][0] >= edge and not order[2][2], "then to the drawings")
        check(order[3][1][1] > drawing.box[1] + drawing.box[3] - 2, lambda: f"then to the findings: {order[3][1]}")
        check(order[4][3], "and round to the tape")
        window.key("shift+F6")
        wait(lambda: focused(window).box[1] > drawing.box[1] + drawing.box[3] - 2, "Shift+F6 to lead back")

        window.key("shift+F6", "shift+F6")
        wait(lambda: focused(window) is not None and inside(focused(window), strip), "the strip to have the keys")
        tabs = list(strip.find_all("page tab"))
        check(len(tabs) > 1, "tabs")
        was = next(i for i, tab in enumerate(tabs) if tab.has_state(Atspi.StateType.SELECTED))
        way = 1 if was + 1 < len(tabs) else -1
        window.key("Right" if way > 0 else "Left")
        wait(lambda: tabs[was + way].has_state(Atspi.StateType.SELECTED), lambda: f"an arrow to show the neighbour, "
             f"{focused(window).role} {focused(window).name!r} has the keys")
        window.key("ctrl+z")
        wait(lambda: tabs[was].has_state(Atspi.StateType.SELECTED), "undo to show it again")
        check(findings.shown, "the findings")


def test_keys_form():
    """Tab reaches every field, choice, box and sign of a page, one after the other, and Shift+Tab comes back."""
    with Window(NET_LOFT) as window:
        window.step("Screen")
        page = wait(lambda: next((pane for pane in window.frame.find_all("scroll pane")
                                  if any(True for _ in pane.find_all("push button", "Add: screen"))), None), "the page")
        window.settle(page)
        wanted = [node for node in page.walk() if node.role in ("text", "check box", "push button") and node.shown
                  and node.has_state(Atspi.StateType.SENSITIVE) and node.has_state(Atspi.StateType.FOCUSABLE)]
        check(len(wanted) > 15, f"{len(wanted)} fields and signs")
        window.key("F6")
        wait(lambda: any(node.has_state(Atspi.StateType.FOCUSED) for node in wanted), "the form to have the keys")
        first = next(i for i, node in enumerate(wanted) if node.has_state(Atspi.StateType.FOCUSED))
        same(first, 0, "F6 leads to the first of the page")
        for node in wanted[1:]:
            window.key("Tab")
            wait(lambda: node.has_state(Atspi.StateType.FOCUSED), lambda: f"Tab to reach {node.role} {node.name!r}, is "
                 f"at {focused(window).name!r}", 5)
        window.key("shift+Tab")
        wait(lambda: wanted[-2].has_state(Atspi.StateType.FOCUSED), "Shift+Tab to come back")


def test_cure():
    """The cure of a chosen finding is a button that says what it does; pressed it does that, one undo undoes it."""
    with Window(NET_LOFT) as window:
        window.click(window.frame.find("page tab", re.compile("Short throw")))
        row = finding_row(window, "^fails. Throw in ")
        before = window.counts()
        throw = row.name
        window.click(row)
        button = window.frame.find("push button", re.compile("^Move the machine .* nearer to the picture$"))
        said = button.name
        window.click(button)
        wait(lambda: throw not in window.findings(), "the finding to go")
        check(window.counts()["fails"] < before["fails"], lambda: f"fewer fail: {window.counts()}, were {before}")
        undo = next(node for node in window.frame.find_all("push button") if node.name.startswith("Undo"))
        check(undo.has_state(Atspi.StateType.SENSITIVE), f"{said!r} can be undone")
        window.key("ctrl+z")
        wait(lambda: window.counts() == before, lambda: f"one undo to bring back {before}, are {window.counts()}")


# ---- choice --------------------------------------------------------------------------------------------------------


def test_choice():
    """The lens trial is shown line by line; Enter makes an arrangement of one, undo takes it back."""
    with Window(NET_LOFT) as window:
        window.step("Choice")
        table = window.frame.find(None, re.compile("^Lens trial, one row"))
        done = subprocess.run([os.environ["PLUMB_EXECUTABLE"], "trial", NET_LOFT, "--json"], capture_output=True,
                              text=True, timeout=60, check=True)
        lines = json.loads(done.stdout)["lines"]
        best = min((line for line in lines if line["fits"]),
                   key=lambda line: (["holds", "tight", "unknown", "fails"].index(line["verdict"]),
                                     -line["panel_share_used"]))
        label = table.find("label", printed(best["message"]))
        rows = [node for node in table.find_all("table row") if node.shown]
        check(len(rows) > 1, "lines under the heads")
        texts = [[child.name for child in row.find_all("label")] for row in table.find_all("table row")]
        verdicts = [text[0] for text in texts if text and text[0] in
                    ("holds", "tight", "unknown", "fails", "does not fit")]
        same(len(verdicts), len(lines), "one line for each machine, lens and place")
        misfits = sum(not line["fits"] for line in lines)
        same(verdicts[len(verdicts) - misfits:], ["does not fit"] * misfits, "lenses that do not fit stand last")

        tabs = window.frame.find("page tab list", "Arrangements")
        before = len(list(tabs.find_all("page tab")))
        window.click(label)
        wait(lambda: window.frame.find("push button", re.compile("Take$")).has_state(Atspi.StateType.SENSITIVE), "Take")
        window.key("Return")
        wait(lambda: len(list(tabs.find_all("page tab"))) == before + 1, "one arrangement more")
        window.key("ctrl+z")
        wait(lambda: len(list(tabs.find_all("page tab"))) == before, "undo to take it back")


if __name__ == "__main__":
    wanted = sys.argv[1:]
    tests = [value for name, value in list(globals().items()) if name.startswith("test_")]
    sys.exit(run([test for test in tests if not wanted or any(word in test.__name__ for word in wanted)]))
