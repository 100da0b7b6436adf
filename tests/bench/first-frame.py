#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""How long the 3D pane takes to its first frame, and how much memory, against a bare OpenGL area with one triangle.

first-frame.py PROGRAM JOB [RUNS]; needs a display (tests/gui/with-display). Times are from the start of the process
to the end of the first frame with OpenGL in it; memory is what is resident after three seconds of rest. Medians; the two
programs take turns, so that what else the computer does meets both.
"""
import os
import statistics
import subprocess
import sys
import time

WANTED = {"first frame": 1.5, "processor time to it": 1.5, "memory": 1.4}


def measure(command):
    begun = time.monotonic()
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "GTK_A11Y": "none"}) as process:
        line = process.stdout.readline()
        took_ms = (time.monotonic() - begun) * 1000
        memory = process.stdout.readline().split()
        process.wait(60)
    if not line.startswith("painted ") or process.returncode != 0:
        raise SystemExit(f"{command}: ended with {process.returncode} after {line!r}")
    return took_ms, float(line.split()[1]), int(memory[1]) / 1024


def main():
    program, job = sys.argv[1:3]
    runs = int(sys.argv[3]) if len(sys.argv) > 3 else 7
    commands = {"triangle": [program, "triangle"], "pane": [program, "pane", job]}
    for command in commands.values():
        measure(command)
    got = {name: [] for name in commands}
    for _ in range(runs):
        for name, command in commands.items():
            got[name].append(measure(command))
    for place, (what, unit) in enumerate((("first frame", "ms"), ("processor time to it", "ms"), ("memory", "MB"))):
        bare, pane = (statistics.median(one[place] for one in got[name]) for name in ("triangle", "pane"))
        print(f"{what}: bare area {bare:.0f} {unit}, 3D pane {pane:.0f} {unit}, {pane / bare:.2f} times "
              f"(wanted: at most {WANTED[what]})")


if __name__ == "__main__":
    main()
