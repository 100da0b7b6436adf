#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures of the window at every step, and with the table of seats, in two sizes, light and dark, for looking at.

screenshots.py FOLDER [--job FILE] [--only WORD]...   (PLUMB_EXECUTABLE: the program; else that of .build)
Starts its own display by with-display.
"""
import argparse
import os
import pathlib
import re
import sys

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
STEPS = ["Room", "Screen", "Machine and place", "People", "Light and air", "Hanging", "Runs", "Choice", "Squaring up",
         "Papers"]
# Behind the steps: the page of the people with the table of seats in place of the findings.
SEATS = "Seats"
SIZES = [(1280, 800), (1920, 1080)]
THEMES = ["light", "dark"]


def arguments():
    parser = argparse.ArgumentParser(description="Pictures of the window at every step.")
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--job", type=pathlib.Path, default=ROOT / "data" / "demo" / "net-loft.plumbeam")
    parser.add_argument("--only", action="append", default=[], help="only names with this word in them")
    return parser.parse_args()


def name_of(size, theme, number, step):
    return f"{size[0]}x{size[1]}-{theme}-{number:02}-{step.lower().replace(' ', '-')}.png"


def take(options, size, theme):
    from driver import Window

    shots = [(name_of(size, theme, number, step), step) for number, step in enumerate([*STEPS, SEATS], 1)]
    shots = [shot for shot in shots if all(word in shot[0] for word in options.only)]
    if not shots:
        return
    with Window(str(options.job), size, theme) as window:
        for name, step in shots:
            if step == SEATS:
                window.step("People")
                window.click(window.frame.find(None, re.compile(f"{SEATS}$")))
            else:
                window.step(step)
            window.rest()
            window.picture(str(options.folder / name))
            print(options.folder / name, flush=True)


def main():
    options = arguments()
    if "PLUMB_OWN_DISPLAY" not in os.environ:
        os.environ["PLUMB_OWN_DISPLAY"] = "1"
        os.environ.setdefault("PLUMB_EXECUTABLE", str(ROOT / ".build" / "src" / "cli" / "plumbeam"))
        os.execv(HERE / "with-display",
                 ["with-display", "--size", "1960x1120", sys.executable, __file__, *sys.argv[1:]])
    options.folder.mkdir(parents=True, exist_ok=True)
    for size in SIZES:
        for theme in THEMES:
            take(options, size, theme)


if __name__ == "__main__":
    main()
