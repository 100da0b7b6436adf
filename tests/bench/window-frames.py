#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Start of the window against an empty one, and how long a drag takes from the flushed events to the painted frame.

window-frames.py PROGRAM JOB...; needs a display with a window manager (tests/gui/with-display).
"""
import os
import pathlib
import re
import signal
import statistics
import subprocess
import sys
import time

RUNS = 15
STEPS = 200
STARTUP_MS, FRAME_MS = 120.0, 8.0
ENVIRONMENT = {**os.environ, "GTK_A11Y": "none", "GSK_RENDERER": "cairo", "LC_ALL": "C.UTF-8"}


def start(command):
    begun = time.monotonic()
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=ENVIRONMENT) as process:
        words = process.stdout.readline().split()
        took = (time.monotonic() - begun) * 1000
    if len(words) != 2 or words[0] != "painted":
        raise SystemExit(f"{command}: said {words}")
    return took, float(words[1])


def starts(program, job):
    """The two take turns, so that what else the computer does meets both."""
    commands = {"empty": [program, "empty"], "job": [program, "job", job]}
    got = {name: [] for name in commands}
    for command in commands.values():
        start(command)
    for _ in range(RUNS):
        for name, command in commands.items():
            got[name].append(start(command))
    for place, what in ((0, "by the clock"), (1, "of processor time")):
        empty, ours = (statistics.median(one[place] for one in got[name]) for name in ("empty", "job"))
        print(f"start to first frame, {what}: empty window {empty:.0f} ms, {pathlib.Path(job).stem} {ours:.0f} ms, "
              f"{ours - empty:+.0f} ms (wanted: at most {STARTUP_MS:.0f} more)", flush=True)


def xdo(*words):
    return subprocess.run(["xdotool", *map(str, words)], check=True, capture_output=True, text=True).stdout


def drag_frames(program, job, at):
    """Frames while the pointer drags what lies at a share of the window's size."""
    with subprocess.Popen([program, "watch", job], stdout=subprocess.PIPE, text=True, env=ENVIRONMENT) as process:
        window = xdo("search", "--sync", "--onlyvisible", "--pid", process.pid).split()[-1]
        xdo("windowsize", "--sync", window, 1280, 800)
        time.sleep(1.5)  # the pages behind the first are built meanwhile; nothing is measured yet
        place = dict(re.findall(r"(\w+)=(-?\d+)", xdo("getwindowgeometry", "--shell", window)))
        x, y = int(place["X"]) + int(1280 * at[0]), int(place["Y"]) + int(800 * at[1])
        xdo("mousemove", x, y, "mousedown", 1)
        process.send_signal(signal.SIGUSR1)
        for step in range(STEPS):
            xdo("mousemove", x + (step % 40) - 20, y + 10 + step // 10)
            time.sleep(0.02)
        xdo("mouseup", 1)
        time.sleep(0.2)
        process.send_signal(signal.SIGTERM)
        return [tuple(map(float, line.split())) for line in process.stdout.read().splitlines()]


def main():
    program, *jobs = sys.argv[1:]
    for job in jobs:
        starts(program, job)
        frames = drag_frames(program, job, (0.476, 0.40))
        if len(frames) < STEPS // 4:
            raise SystemExit(f"only {len(frames)} frames were painted: nothing was dragged")
        for place, what in ((0, "by the clock"), (1, "of processor time")):
            took = sorted(frame[place] for frame in frames)
            part = took[min(len(took) - 1, int(0.95 * len(took)))]
            print(f"dragging in the plan of {pathlib.Path(job).stem}, flushed events to painted frame, {what}: median "
                  f"{statistics.median(took):.1f} ms, 95th percentile {part:.1f} ms over {len(took)} frames "
                  f"(wanted: under {FRAME_MS:.0f})", flush=True)


if __name__ == "__main__":
    main()
