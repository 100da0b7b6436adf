#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts the cases of one or more Meson test runs and prints the closing line.

A program that ends badly although each case it told of was well (it crashed, leaked, or told of nothing) counts
as one failure more, and so does a run that left no log.
"""
import argparse
import json
import pathlib
import sys
import xml.etree.ElementTree as ElementTree


def case_kind(case):
    if case.find("failure") is not None or case.find("error") is not None:
        return "failed"
    return "skipped" if case.find("skipped") is not None else "passed"


def count_run(logs):
    """Counts of one run, and words for each failure."""
    counts = {"passed": 0, "failed": 0, "skipped": 0}
    troubles = []
    told = {}  # program -> kinds of its cases
    report = logs / "testlog.junit.xml"
    programs = logs / "testlog.json"
    if not report.is_file() or not programs.is_file():
        counts["failed"] += 1
        return counts, [f"{logs}: nothing ran"]

    for suite in ElementTree.parse(report).getroot().iter("testsuite"):
        _, dot, program = suite.get("name").partition(".")
        for case in suite.findall("testcase"):
            kind = case_kind(case)
            counts[kind] += 1
            # A TAP program is a suite "project.program"; one that told of nothing is a case of suite "project".
            name = program if dot else case.get("name")
            told.setdefault(name, set()).add(kind)
            if kind != "passed":
                troubles.append(f"{name}: {case.get('name')}: {kind}")

    for line in programs.read_text(encoding="utf-8").splitlines():
        program = json.loads(line)
        name = program["name"]
        good = program["result"] in ("OK", "SKIP")
        kinds = told.get(name, set())
        if not kinds or (not good and "failed" not in kinds):
            counts["failed"] += 1
            troubles.append(f"{name}: ended with {program['result']} ({program.get('returncode')})")
    return counts, troubles


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--trouble", type=int, default=0, help="not 0: something outside the cases went wrong")
    parser.add_argument("logs", nargs="+", type=pathlib.Path)
    options = parser.parse_args()

    total = {"passed": 0, "failed": 0, "skipped": 0}
    for logs in options.logs:
        counts, troubles = count_run(logs)
        for kind in total:
            total[kind] += counts[kind]
        for trouble in troubles:
            print(trouble)
    print(f"{total['passed']} passed, {total['failed']} failed, {total['skipped']} skipped")
    bad = options.trouble or total["failed"] or total["skipped"] or not total["passed"]
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
