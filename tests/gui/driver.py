# SPDX-License-Identifier: GPL-3.0-or-later
"""Drives the window as a person does: looks through the accessibility bus, acts with real keys and pointer.

Three habits of GTK 4.8 on the bus are met here (seen by trying): extents are those in the window, so the window's
place on the display and its shadow are added; what is not shown has no size; a list item has no action, so it is
clicked. Nothing sleeps a fixed time for something to be done: wait() looks again and again.
"""
import os
import re
import shutil
import signal
import subprocess
import tempfile
import time

import gi

gi.require_version("Atspi", "2.0")
from gi.repository import Atspi, GLib  # noqa: E402

PATIENCE_S = 20.0


class Trouble(AssertionError):
    pass


def xdo(*words):
    done = subprocess.run(["xdotool", *[str(word) for word in words]], capture_output=True, text=True, timeout=30)
    if done.returncode != 0:
        raise Trouble(f"xdotool {' '.join(map(str, words))}: {done.stderr.strip()}")
    return done.stdout


def wait(look, what, patience=PATIENCE_S):
    """Looks until it gets something true, and returns that. what: words, or a function that says them at the end."""
    end = time.monotonic() + patience
    while True:
        seen = look()
        if seen:
            return seen
        if time.monotonic() > end:
            raise Trouble(f"waited {patience:.0f} s in vain: {what() if callable(what) else what}")
        time.sleep(0.05)


class Node:
    """A widget on the bus; one that went away has no name, no size and no children."""

    def __init__(self, accessible):
        self.accessible = accessible

    def _ask(self, question, otherwise):
        try:
            return question()
        except GLib.Error:
            return otherwise

    @property
    def role(self):
        return self._ask(self.accessible.get_role_name, "")

    @property
    def name(self):
        return self._ask(self.accessible.get_name, "") or ""

    @property
    def box(self):
        got = self._ask(lambda: Atspi.Component.get_extents(self.accessible, Atspi.CoordType.WINDOW), None)
        return (got.x, got.y, got.width, got.height) if got is not None else (0, 0, 0, 0)

    @property
    def shown(self):
        return self.box[2] > 0 and self.box[3] > 0

    @property
    def text(self):
        def question():
            return Atspi.Text.get_text(self.accessible, 0, Atspi.Text.get_character_count(self.accessible))
        return self._ask(question, "")

    def has_state(self, state):
        return self._ask(lambda: self.accessible.get_state_set().contains(state), False)

    def children(self):
        count = self._ask(self.accessible.get_child_count, 0)
        for i in range(count):
            child = self._ask(lambda place=i: self.accessible.get_child_at_index(place), None)
            if child is not None:
                yield Node(child)

    def walk(self):
        yield self
        for child in self.children():
            yield from child.walk()

    def find_all(self, role=None, name=None):
        """name: a string that is the whole name, or a pattern that is found in it."""
        for node in self.walk():
            if role is not None and node.role != role:
                continue
            if isinstance(name, str) and node.name != name:
                continue
            if isinstance(name, re.Pattern) and not name.search(node.name):
                continue
            yield node

    def find(self, role=None, name=None, shown=True, patience=PATIENCE_S):
        def look():
            return next((node for node in self.find_all(role, name) if node.shown or not shown), None)
        return wait(look, f"a {role or 'widget'} named {name!r}", patience)

    def labels(self):
        return [node.name for node in self.find_all("label") if node.shown]


class Window:
    """The program with a copy of a job, in a folder of its own. Without GL no driver is loaded, which would leak."""

    def __init__(self, job=None, size=(1280, 800), theme="light", with_gl=True):
        self.folder = tempfile.mkdtemp()
        self.path = None
        if job is not None:
            self.path = os.path.join(self.folder, os.path.basename(job))
            shutil.copy(job, self.path)
        self.environment = dict(os.environ, PLUMB_THEME=theme, G_DEBUG="fatal-criticals",
                                XDG_STATE_HOME=os.path.join(self.folder, "state"),
                                XDG_CONFIG_HOME=os.path.join(self.folder, "config"))
        if not with_gl or os.environ.get("PLUMB_GUI_GL") == "disable":
            self.environment["GDK_DEBUG"] = "gl-disable"
        self.size = size
        self.log = open(os.path.join(self.folder, "log"), "w+", encoding="utf-8")
        self.process = None
        self.start()

    def start(self):
        program = os.environ["PLUMB_EXECUTABLE"]
        self.process = subprocess.Popen([program] + ([self.path] if self.path else []), env=self.environment,
                                        stdout=self.log, stderr=self.log)
        try:
            self.frame = wait(self._look_for_frame, "the window on the accessibility bus")
            self.id = wait(self._look_for_id, "the window on the display")
            xdo("windowactivate", "--sync", self.id)
            self.resize(*self.size)
        except BaseException:
            self.close()
            raise

    def quit(self):
        """Closes the window as the window manager does; the program has to end well."""
        self.key("alt+F4")
        wait(lambda: self.process.poll() is not None, "the program to end")
        code, self.process = self.process.returncode, None
        self.log.seek(0)
        said = self.log.read()
        if code != 0:
            raise Trouble(f"the program ended with {code}: {said}")

    def __enter__(self):
        return self

    def __exit__(self, kind, error, trace):
        code = self.process.poll() if self.process is not None else None
        if error is not None and self.process is not None and code is None:
            self.keep_picture()
        said = self.close()
        if error is not None and code is not None:
            raise Trouble(f"the program ended by itself with {code}: {said}") from error
        if error is None and code is not None:
            raise Trouble(f"the program ended by itself with {code}: {said}")
        if error is None and re.search(r"CRITICAL|WARNING|broken invariant|ERROR: AddressSanitizer", said):
            raise Trouble(f"the program complained: {said}")
        return False

    def _look_for_frame(self):
        if self.process.poll() is not None:
            self.log.seek(0)
            raise Trouble(f"the program ended with {self.process.returncode}: {self.log.read()}")
        desktop = Node(Atspi.get_desktop(0))
        for application in desktop.children():
            if application._ask(application.accessible.get_process_id, -1) != self.process.pid:
                continue
            self.application = application
            return next((node for node in application.children() if node.role == "frame" and node.shown), None)
        return None

    def has_focus(self):
        """Whether the keys go to the main window; for a moment they may go nowhere."""
        done = subprocess.run(["xdotool", "getactivewindow"], capture_output=True, text=True, timeout=30)
        return done.returncode == 0 and done.stdout.strip() == self.id

    def others(self):
        """Windows of the program beside its main one."""
        return [node for node in self.application.children() if node.accessible != self.frame.accessible]

    def _look_for_id(self):
        found = subprocess.run(["xdotool", "search", "--onlyvisible", "--pid", str(self.process.pid)],
                               capture_output=True, text=True, timeout=30).stdout.split()
        # Low ones are helpers of the toolkit, and the tooltip under a resting pointer.
        return next((number for number in found if self._geometry(number)["HEIGHT"] > 200), None)

    @staticmethod
    def _geometry(number):
        lines = xdo("getwindowgeometry", "--shell", number).split()
        return {key: int(value) for key, value in (line.split("=") for line in lines if line.split("=")[1].isdigit())}

    def resize(self, width, height):
        """Of what is seen: the shadow comes on top."""
        def fits():
            # Asked again: a window that is just being made may follow its own wish after ours.
            shadow = self._shadow()
            xdo("windowmove", self.id, 0, 0)
            xdo("windowsize", self.id, width + 2 * shadow, height + 2 * shadow)
            end = time.monotonic() + 2
            while time.monotonic() < end:
                if abs(self.frame.box[2] - width) <= 1 and abs(self.frame.box[3] - height) <= 1:
                    return True
                time.sleep(0.05)
            return False
        wait(fits, lambda: f"a window of {width}×{height}, is {self.frame.box}")

    def _shadow(self):
        return max(0, (self._geometry(self.id)["WIDTH"] - self.frame.box[2]) // 2)

    def place_of(self, node, across=0.5, down=0.5):
        """A point of a widget on the display."""
        geometry, shadow, (x, y, width, height) = self._geometry(self.id), self._shadow(), node.box
        return (round(geometry.get("X", 0) + shadow + x + across * width),
                round(geometry.get("Y", 0) + shadow + y + down * height))

    def click(self, node, across=0.5, down=0.5, times=1):
        xdo("mousemove", *self.place_of(node, across, down))
        xdo("click", "--repeat", times, "--delay", 60, 1)

    def drag(self, start, by, steps=12):
        """From a point of the display, in small steps as a hand does it."""
        xdo("mousemove", *start)
        xdo("mousedown", 1)
        for i in range(1, steps + 1):
            xdo("mousemove", round(start[0] + by[0] * i / steps), round(start[1] + by[1] * i / steps))
            time.sleep(0.02)
        xdo("mouseup", 1)

    def key(self, *names):
        for name in names:
            xdo("key", name)

    def type(self, text):
        xdo("type", "--delay", 15, text)

    @staticmethod
    def settle(node):
        """Waits until a widget rests where it is."""
        boxes = [node.box]

        def rests():
            time.sleep(0.1)
            boxes.append(node.box)
            return boxes[-1] == boxes[-2]
        wait(rests, lambda: f"{node.name!r} to rest, was at {boxes[-2:]}")

    def bring_into_view(self, node, within):
        """Turns the wheel over a scrolled part until the widget is inside it."""
        self.settle(node)
        for _ in range(200):
            x, y, width, height = node.box
            top, bottom = within.box[1], within.box[1] + within.box[3]
            if width > 0 and y >= top and y + height <= bottom:
                return
            before = (y, height)
            xdo("mousemove", *self.place_of(within, 0.97, 0.5))
            xdo("click", 5 if y + height > bottom else 4)
            wait(lambda old=before: (node.box[1], node.box[3]) != old, f"{node.name!r} to be scrolled", 5)
            self.settle(node)
        raise Trouble(f"{node.name!r} could not be scrolled into view")

    def step(self, name):
        """Turns to a step of the work by its tape."""
        self.click(self.frame.find("page tab", re.compile(rf"^\d+ {re.escape(name)}, ")))

    def form(self):
        """The scrolled part that holds the form's page."""
        tape = self.frame.find("page tab list", "Steps").box
        edge = tape[0] + tape[2]
        return wait(lambda: next((node for node in self.frame.find_all("scroll pane")
                                  if node.shown and edge - 2 <= node.box[0] <= edge + 30), None), "the form")

    def field(self, name):
        """A field of the form, scrolled into view."""
        node = self.frame.find("text", name)
        self.bring_into_view(node, self.form())
        return node

    def fill(self, name, text):
        node = self.field(name)
        self.click(node)
        wait(lambda: node.has_state(Atspi.StateType.FOCUSED), f"the field {name!r} to take the keys")
        self.key("ctrl+a")
        self.type(text)
        self.key("Return")

    def findings(self):
        """The lines of the findings by what a screen reader says of them."""
        lists = self.frame.find("list", "Findings, worst first")
        return [node.name for node in lists.children() if node.role == "list item"]

    def counts(self):
        """Numbers of the four verdicts in the head of the findings."""
        group = self.frame.find("panel", "Show only these verdicts")
        words = " ".join(node.name for node in group.find_all("label"))
        number = {key: re.search(rf"(\d+) {word}", words) for key, word in
                  (("fails", "fail"), ("tight", "tight"), ("unknown", "unknown"), ("holds", "hold"))}
        if None in number.values():
            raise Trouble(f"the counts say {words!r}")
        return {key: int(found.group(1)) for key, found in number.items()}

    def drawing(self):
        """The first drawing; its name says what it shows."""
        return self.frame.find("image", re.compile(r"^(Plan|Side|Picture|Ceiling), "))

    def picture(self, path):
        """What is seen of the window, without its shadow."""
        x, y = self.place_of(self.frame, 0, 0)
        width, height = self.frame.box[2:]
        subprocess.run(["import", "-window", "root", "-crop", f"{width}x{height}+{x}+{y}", "+repage", path], check=True,
                       timeout=60)

    def rest(self):
        """Waits until what is seen stays the same, with the pointer out of the way."""
        xdo("mousemove", *self.place_of(self.frame, 1.0, 1.0))
        seen = [b""]

        def stays():
            time.sleep(0.25)
            seen.append(subprocess.run(["import", "-window", "root", "rgb:-"], capture_output=True, check=True,
                                       timeout=60).stdout)
            return seen[-1] == seen.pop(0)
        wait(stays, "the window to rest")

    def keep_picture(self):
        folder = os.environ.get("PLUMB_GUI_PICTURES")
        if folder:
            os.makedirs(folder, exist_ok=True)
            self.picture(os.path.join(folder, f"failed-{self.process.pid}.png"))

    def close(self):
        """Ends the program that was started here, and returns what it said."""
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            try:
                self.process.wait(10)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
        self.log.seek(0)
        said = self.log.read()
        self.log.close()
        shutil.rmtree(self.folder, ignore_errors=True)
        return said


def run(tests):
    """Runs functions as TAP cases; the code for the shell."""
    import traceback

    print(f"1..{len(tests)}", flush=True)
    failed = 0
    for number, test in enumerate(tests, 1):
        words = test.__doc__.strip().splitlines()[0].rstrip(".")
        try:
            test()
            print(f"ok {number} - {words}", flush=True)
        except Exception:
            failed += 1
            for line in traceback.format_exc().splitlines():
                print(f"# {line}")
            print(f"not ok {number} - {words}", flush=True)
    return 1 if failed else 0
