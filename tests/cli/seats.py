#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The table of seats from outside: `export --table seats`. Prints TAP.

The file is read by Python's csv module in its strict mode, and its lines are held against RFC 4180 (CRLF behind every
record, the same number of fields in each, a header). Its figures are those of `check --json`, to the last digit; the
contrast of each seat is worked out anew from other figures of that document.
"""
import csv
import io
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import traceback

SOURCE = pathlib.Path(os.environ["PLUMB_SOURCE_DIR"])
PROGRAM = os.environ["PLUMB_EXECUTABLE"]
SMALL = SOURCE / "tests/cli/small.plumbeam"
LOFT, MUSIC = (SOURCE / "data/demo" / f"{name}.plumbeam" for name in ("net-loft", "music-room"))
RANK = {"fails": 0, "unknown": 1, "tight": 2, "holds": 3}
# Same name, same figure in the seats of `check --json`.
SAME = ("horizontal_angle_rad", "distance_heights_ratio", "look_up_centre_rad", "look_up_top_rad", "off_axis_rad",
        "pixels_per_degree", "text_height_m", "hidden_share", "c_value_m", "luminance_centre_fl", "noise_db")
# The figures that only an eye before the picture has.
SIGHT = ("look_up_centre_rad", "look_up_top_rad", "off_axis_rad", "pixels_per_degree", "text_height_m",
         "hidden_share", "hidden_most_by", "c_value_m", "luminance_centre_cd_m2", "luminance_centre_fl",
         "contrast_ratio")
HEADER = ["seat", "verdict", "checks", "horizontal_angle_rad", "distance_heights_ratio", "look_up_centre_rad",
          "look_up_top_rad", "off_axis_rad", "pixels_per_degree", "text_height_m", "hidden_share", "hidden_most_by",
          "c_value_m", "luminance_centre_cd_m2", "luminance_centre_fl", "contrast_ratio", "light_state", "noise_db",
          "note"]


def run(*arguments, env=None):
    done = subprocess.run([PROGRAM, *map(str, arguments)], stdin=subprocess.DEVNULL, capture_output=True, timeout=100,
                          env={**os.environ, **(env or {})}, check=False)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def refused(code, message, *arguments):
    got = run(*arguments)
    assert got == (code, "", f"plumbeam: {message}\n"), got


def document(*arguments):
    code, out, err = run("check", *arguments, "--json")
    assert code in (0, 1) and err == "", err
    return json.loads(out)


def read(content):
    """The rows, after what RFC 4180 asks of the bytes."""
    text = content.decode("utf-8")
    assert not text.startswith("\ufeff")
    assert text.endswith("\r\n") and "\n" not in text.replace("\r\n", ""), "every record ends in CRLF"
    lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert lines[0] == HEADER, lines[0]
    assert all(len(line) == len(HEADER) for line in lines), "as many fields everywhere"
    return [dict(zip(HEADER, line)) for line in lines[1:]]


def table(*arguments, env=None):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "seats.csv"
        got = run("export", *arguments, "--table", "seats", "-o", path, env=env)
        assert got == (0, "", ""), got
        assert [entry.name for entry in pathlib.Path(folder).iterdir()] == ["seats.csv"]
        return read(path.read_bytes())


def figure(row, key):
    assert re.fullmatch(r"-?\d+(\.\d+)?(e-?\d+)?", row[key]), (key, row[key])
    return float(row[key])


def contrast(told, seat, state, own_contrast):
    """White over black towards a seat: (E g + R) / (E g / C + R), ANSI/AVIXA V201.01. E is the mean of the nine
    fields, g the seat's gain, and R what comes back of all other light; it follows from the white of the state's own
    figure, which is told towards the seat with the least gain."""
    mean = sum(told["figures"]["illuminance_fields_lx"]) / 9.0
    least = min(told["seats"], key=lambda other: other["luminance_cd_m2"][0])["gain_ratio"]
    rest = (state["white_share"] - 1.0) * mean * least
    white = mean * seat["gain_ratio"]
    return (white + rest) / (white / own_contrast + rest)


def check_row(row, seat, told, machine):
    for key in SAME:
        wanted = seat.get(key)
        if key in SIGHT and not seat["before_picture"]:
            wanted = None
        if wanted is None:
            assert row[key] == "" and row["note"] != "", (key, row)
        else:
            assert figure(row, key) == wanted, (key, row[key], wanted)
    assert row["hidden_most_by"] == seat.get("hidden_most_by", ""), row
    assert figure(row, "luminance_centre_cd_m2") == seat["luminance_cd_m2"][0]
    state = next(state for state in told["light_states"] if state["light_state"] == row["light_state"])
    assert math.isclose(figure(row, "contrast_ratio"), contrast(told, seat, state, machine["contrast"]),
                        rel_tol=1e-9), row


def check_verdicts(rows, told):
    """A seat fails what a finding that names it says; one that the document calls failing fails; none is better than
    the findings that name it."""
    ranks = [RANK[row["verdict"]] for row in rows]
    assert ranks == sorted(ranks), "worst first"
    for row, seat in ((row, seat) for row in rows for seat in told["seats"] if seat["seat"] == row["seat"]):
        about = [finding for finding in told["findings"]
                 if finding["subject"] in (f"rows.{row['seat']}", f"seats.{row['seat']}")]
        worst = min([RANK[finding["verdict"]] for finding in about] + [0 if seat["fails"] else 3])
        assert RANK[row["verdict"]] == worst, (row, about)
        checks = row["checks"].split(" ") if row["checks"] else []
        assert (checks == []) == (row["verdict"] == "holds"), row
        assert {f["check"] for f in about if f["verdict"] == row["verdict"] != "holds"} <= set(checks), row


# ---- cases -------------------------------------------------------------------------


def test_against_json():
    for path in (LOFT, MUSIC):
        job = json.loads(path.read_text(encoding="utf-8"))
        for arrangement in (record["id"] for record in job["arrangements"]):
            told = document(path, "--arrangement", arrangement)
            rows = table(path, "--arrangement", arrangement)
            machine = next(record for record in job["machines"] if record["id"] == told["machine"])
            assert sorted(row["seat"] for row in rows) == sorted(seat["seat"] for seat in told["seats"])
            for row in rows:
                check_row(row, next(seat for seat in told["seats"] if seat["seat"] == row["seat"]), told, machine)
            check_verdicts(rows, told)


def test_counts():
    """As many seats fail a check as its finding says in words; where a check has two rules, at least as many."""
    looked_at = 0
    for path in (LOFT, MUSIC):
        told, rows = document(path), table(path)
        for finding in told["findings"]:
            many = re.search(r"\((\d+) of (\d+) seats\)", finding["message"])
            if finding["verdict"] != "fails" or not many or finding["family"] != "people":
                continue
            count = sum(finding["check"] in row["checks"].split(" ") for row in rows)
            rules = sum(other["check"] == finding["check"] for other in told["findings"])
            assert count == int(many[1]) or (rules > 1 and count > int(many[1])), (count, finding)
            looked_at += 1
    assert looked_at >= 4, looked_at


def test_by_hand():
    """tests/cli/small.plumbeam: the chair's eye is 4 m from the screen's plane and 1.2 m up, in its middle; the
    picture is 2 m by 1.125 m, its centre 1.4625 m and its upper edge 2.025 m up."""
    chair = next(row for row in table(SMALL) if row["seat"] == "chair")
    centre = math.hypot(4.0, 1.4625 - 1.2)
    assert math.isclose(figure(chair, "distance_heights_ratio"), centre / 1.125, abs_tol=1e-9)
    assert math.isclose(figure(chair, "look_up_centre_rad"), math.atan2(1.4625 - 1.2, 4.0), abs_tol=1e-9)
    assert math.isclose(figure(chair, "look_up_top_rad"), math.atan2(2.025 - 1.2, 4.0), abs_tol=1e-9)
    assert math.isclose(figure(chair, "horizontal_angle_rad"), 2.0 * math.atan2(1.0, centre), abs_tol=1e-9)
    # Distance over 200 (AVIXA V202.01:2016).
    assert math.isclose(figure(chair, "text_height_m"), centre / 200.0, abs_tol=1e-9)
    # No light state: no contrast, and it says so.
    assert chair["contrast_ratio"] == "" == chair["light_state"] and "no light state" in chair["note"], chair
    # 1 fL = 1 / (pi 0.3048^2) cd/m2.
    assert math.isclose(figure(chair, "luminance_centre_cd_m2"),
                        figure(chair, "luminance_centre_fl") / (math.pi * 0.3048 ** 2), rel_tol=1e-12)


def test_light():
    told = document(LOFT)
    for state in told["light_states"]:
        if not state["known"]:
            continue
        rows = table(LOFT, "--light", state["light_state"])
        assert {row["light_state"] for row in rows} == {state["light_state"]}
        # The state's own figure is that of the darkest seat.
        assert math.isclose(min(figure(row, "contrast_ratio") for row in rows), state["contrast_ratio"], rel_tol=1e-12)
    names = ", ".join(state["light_state"] for state in told["light_states"])
    refused(2, f"--light none: there is no such light state; the job has {names}", "export", LOFT, "--table", "seats",
            "-o", "a.csv", "--light", "none")
    refused(2, "--light dim: there is no such light state; the job has none", "export", SMALL, "--table", "seats",
            "-o", "a.csv", "--light", "dim")


def test_missing():
    """A seat behind the picture, one where nobody can sit, a job without an arrangement: empty, and why."""
    behind = next(row for row in table(SMALL, "--set", "seats.chair.y_m=7") if row["seat"] == "chair")
    assert all(behind[key] == "" for key in SIGHT), behind
    assert behind["verdict"] == "fails" and "people.seat" in behind["checks"].split(" ")
    assert "not before the picture" in behind["note"]
    twice = table(SMALL, "--set", "seats.chair.x_m=2.5", "--set", "seats.chair.y_m=1", "--set",
                  "rows.row2.floor_z_m=0")
    crowded = [row for row in twice if "people.seat" in row["checks"].split(" ")]
    assert len(crowded) == 1 and crowded[0]["hidden_share"] == "" and "Nobody can sit" in crowded[0]["note"], crowded
    rows = table(SMALL, "--set", "arrangements.ceiling.lens=none")
    assert len(rows) == 4
    for row in rows:
        assert row["verdict"] == "unknown" and "no picture to look at" in row["note"], row
        assert all(row[key] == "" for key in HEADER if key not in ("seat", "verdict", "note")), row
    with tempfile.TemporaryDirectory() as folder:
        empty = pathlib.Path(folder) / "empty.plumbeam"
        empty.write_text('{"plumbeam": 1}\n', encoding="utf-8")
        assert table(empty) == []


def test_locale():
    """A comma as decimal sign outside stays out of the file."""
    assert table(MUSIC, env={"LC_ALL": "de_DE.UTF-8"}) == table(MUSIC, env={"LC_ALL": "C.UTF-8"})


def test_many():
    rows = table(SMALL, "--set", "rows.row2.count=10000")
    assert len(rows) == 10001 and len({row["seat"] for row in rows}) == 10001


def test_refused():
    for name in ("runs", "holes", "shopping", "chairs", ""):
        refused(2, f"--table {name}: this version has the table seats alone", "export", SMALL, "--table", name, "-o",
                "a.csv")
    refused(2, "export: -o OUT is missing; see: plumbeam export --help", "export", SMALL, "--table", "seats")
    refused(2, "export: with --table OUT must end in .csv", "export", SMALL, "--table", "seats", "-o", "a.pdf")
    refused(2, "export: a .csv file holds a table: add --table seats", "export", SMALL, "-o", "a.csv")
    refused(2, "export: --view goes with a drawing, and --table writes none", "export", SMALL, "--table", "seats",
            "-o", "a.csv", "--view", "plan")
    refused(2, "export: --light goes with --table seats", "export", SMALL, "-o", "a.pdf", "--light", "film")
    refused(2, "--arrangement attic: there is no such arrangement; the job has ceiling, far", "export", SMALL,
            "--table", "seats", "-o", "a.csv", "--arrangement", "attic")
    with tempfile.TemporaryDirectory() as folder:
        code, out, err = run("export", SMALL, "--table", "seats", "-o", f"{folder}/no/folder/a.csv")
        assert code == 3 and out == "" and f"{folder}/no/folder/a.csv" in err and err.count("\n") == 1, err
        kept = pathlib.Path(folder) / "kept.csv"
        kept.write_text("old", encoding="utf-8")
        code, _, _ = run("export", "nowhere.plumbeam", "--table", "seats", "-o", kept)
        assert code == 2 and kept.read_text(encoding="utf-8") == "old"


def test_names_are_documented():
    """docs/figures.md lists the columns, in their order."""
    page = (SOURCE / "docs/figures.md").read_text(encoding="utf-8")
    section = page.split("## Seats", 1)[1].split("\n## ", 1)[0]
    assert re.findall(r"^\| `(\w+)` \|", section, re.MULTILINE) == HEADER


def main():
    tests = [(name, test) for name, test in globals().items() if name.startswith("test_")]
    print(f"1..{len(tests)}")
    failed = False
    for number, (name, test) in enumerate(tests, 1):
        try:
            test()
            print(f"ok {number} - {name}", flush=True)
        except Exception:  # pylint: disable=broad-except
            failed = True
            print(f"not ok {number} - {name}\n# " + traceback.format_exc().replace("\n", "\n# "), flush=True)
    sys.exit(1 if failed else 0)


main()
