#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The command line from outside: exit codes, error texts, JSON, CSV, locale. Prints TAP.

JSON and CSV are read by Python's own modules. The few figures that are held against numbers are worked out by hand
beside them, for tests/cli/small.plumbeam: a room of 5 m by 6 m, a screen 2 m wide in the middle of the far wall, the
lens 3.13 m from the near wall, so 2.87 m from the screen.
"""
import csv
import io
import itertools
import json
import math
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import traceback
import xml.etree.ElementTree as ElementTree

SOURCE = pathlib.Path(os.environ["PLUMB_SOURCE_DIR"])
BUILD = pathlib.Path(os.environ["PLUMB_BUILD_DIR"])
PROGRAM = os.environ["PLUMB_EXECUTABLE"]
SMALL = str(SOURCE / "tests/cli/small.plumbeam")
DEMOS = [str(SOURCE / "data/demo" / name) for name in ("net-loft.plumbeam", "music-room.plumbeam")]
RANK = {"fails": 0, "unknown": 1, "tight": 2, "holds": 3}


def run(*arguments, env=None, stdout=subprocess.PIPE):
    done = subprocess.run(
        [PROGRAM, *arguments], stdin=subprocess.DEVNULL, stdout=stdout, stderr=subprocess.PIPE, timeout=60,
        env={**os.environ, **(env or {})},
    )
    return done.returncode, (done.stdout or b"").decode("utf-8"), done.stderr.decode("utf-8")


def refuse_number(text):
    raise ValueError(f"{text} is no JSON number")


def refuse_twice(pairs):
    keys = [key for key, _ in pairs]
    assert len(keys) == len(set(keys)), f"a key twice in {keys}"
    return dict(pairs)


def load(text):
    """JSON without NaN, infinity or a key twice."""
    return json.loads(text, parse_constant=refuse_number, object_pairs_hook=refuse_twice)


def check_json(*arguments, codes=(0, 1)):
    code, out, err = run("check", *arguments, "--json")
    assert code in codes, (arguments, code, err)
    assert err == "", err
    document = load(out)
    assert document["plumbeam_check"] == 1
    return code, document


def refused(code, message, *arguments):
    got, out, err = run(*arguments)
    assert (got, out, err) == (code, "", f"plumbeam: {message}\n"), (got, out, err)


# ---- usage -----------------------------------------------------------------------


def test_help_and_version():
    code, out, err = run("--help")
    assert (code, err) == (0, "")
    for word in ("check FILE", "trial FILE", "export FILE", "sheets FILE", "--strict", "--set"):
        assert word in out, word
    code, out, err = run("--version")
    assert (code, err) == (0, "") and out == "plumbeam 0.1.0\n", out
    for command in ("check", "trial", "export", "picture", "sheets"):
        code, out, err = run(command, "--help")
        assert (code, err) == (0, "") and f"plumbeam {command}" in out, out


def test_what_there_is_not():
    refused(2, "there is no command “chek”; see: plumbeam --help", "chek", SMALL)
    for command in ("map", "square"):
        refused(2, f"this version has no command “{command}”", command, SMALL)


def test_window_without_display():
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        os.environ.pop(name, None)
    message = "there is no display to open a window on; see: plumbeam --help"
    refused(3, message)
    refused(3, message, SMALL)
    refused(3, message, "nowhere.plumbeam")
    refused(2, "the window opens one job file, not 2; see: plumbeam --help", SMALL, SMALL)
    # A file that is called like a command does not hide the command.
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(SMALL, f"{folder}/check")
        done = subprocess.run([PROGRAM, "check"], cwd=folder, capture_output=True, timeout=60, check=False)
        assert done.returncode == 2 and b"check takes one job file, not 0" in done.stderr, done


def test_usage():
    for command in ("check", "trial"):
        refused(2, f"{command} takes one job file, not 0; see: plumbeam {command} --help", command)
        refused(2, f"{command} takes one job file, not 2; see: plumbeam {command} --help", command, SMALL, SMALL)
        refused(2, f"{command}: Unknown option --frob", command, SMALL, "--frob")
        refused(2, f"{command}: Missing argument for --set", command, SMALL, "--set")
    refused(2, "trial prints JSON or CSV, not both", "trial", SMALL, "--json", "--csv")
    refused(2, "check: Unknown option --csv", "check", SMALL, "--csv")
    refused(2, "--arrangement attic: there is no such arrangement; the job has ceiling, far", "check", SMALL,
            "--arrangement", "attic")
    refused(2, "--arrangement all: there is no such arrangement; the job has ceiling, far", "trial", SMALL,
            "--arrangement", "all")
    code, _, err = run("check", SMALL, "--arrangement", b"\xff")
    assert (code, err) == (2, "plumbeam: --arrangement: the text is not UTF-8\n"), err


def test_files():
    with tempfile.TemporaryDirectory() as folder:
        missing = f"{folder}/none.plumbeam"
        refused(2, f"cannot read {missing}: No such file or directory", "check", missing)
        for content in (b"", b"{", b"[" * 100000, b"\xff\xfe", b'{"plumbeam": 999}', b'{"plumbeam": 1} {}', b"null"):
            path = pathlib.Path(folder) / "bad.plumbeam"
            path.write_bytes(content)
            code, out, err = run("check", str(path))
            assert code == 2 and out == "" and err.startswith(f"plumbeam: {path}: ") and err.count("\n") == 1, err
        for command in ("check", "trial"):
            code, out, err = run(command, folder)
            assert code == 2 and out == "" and folder in err, err


def test_full_disc():
    for arguments in (("--help",), ("check", SMALL), ("check", SMALL, "--json"), ("trial", SMALL)):
        with open("/dev/full", "wb") as full:
            code, _, err = run(*arguments, stdout=full)
        assert (code, err) == (3, "plumbeam: the output could not be written\n"), (arguments, code, err)


# ---- check ------------------------------------------------------------------------


def test_exit_codes():
    # The long lens cannot fill the screen: 2.87 m over 2 m is 1.435, and it begins at 2.
    code, document = check_json(SMALL, "--arrangement", "far")
    assert code == 1 and document["verdict"] == "fails"
    code, document = check_json(SMALL)
    assert code == 0 and document["verdict"] in ("holds", "tight", "unknown"), document["counts"]
    for name in ("ceiling", "far"):
        _, document = check_json(SMALL, "--arrangement", name)
        strict, _ = check_json(SMALL, "--arrangement", name, "--strict")
        assert strict == (0 if document["verdict"] == "holds" else 1)
    # A missing focus range is unknown: an answer, but not to --strict.
    code, document = check_json(SMALL, "--arrangement", "far", "--set", "arrangements.far.lens=zoom", "--set",
                                "lenses.zoom.focus_far_m=9")
    assert code == 0, document["counts"]


def test_document():
    for path in (SMALL, *DEMOS):
        _, everything = check_json(path, "--arrangement", "all")
        for part in everything["arrangements"]:
            check_document(path, part)
        _, current = check_json(path)
        whole = {key: value for key, value in current.items() if key not in ("plumbeam_check", "job", "unknown_keys",
                                                                             "caution")}
        assert whole in everything["arrangements"]


def check_document(path, document):
    findings = document["findings"]
    ranks = [RANK[finding["verdict"]] for finding in findings]
    assert ranks == sorted(ranks), "worst first"
    assert document["verdict"] == findings[0]["verdict"]
    for verdict in RANK:
        assert document["counts"][verdict] == sum(1 for finding in findings if finding["verdict"] == verdict)
    for finding in findings:
        check_finding(finding)
    for name, spread in document["spreads"].items():
        value = document["figures"][name]
        assert isinstance(value, list) == isinstance(spread, list)
        assert not isinstance(value, list) or len(value) == len(spread)
    if document["solved"]:
        check_geometry(document)
    assert len({seat["seat"] for seat in document["seats"]}) == len(document["seats"]), path


def check_finding(finding):
    for key in ("check", "family", "verdict", "basis", "source", "step", "message"):
        assert finding[key].strip() == finding[key] != "", (key, finding)
    assert finding["check"].startswith(finding["family"] + "."), finding
    assert finding["message"].endswith(".") and not finding["message"][0].islower(), finding
    if finding["verdict"] in ("holds", "tight") and "to_spare" in finding:
        assert finding["to_spare"] >= -1e-9, finding
    if finding["verdict"] == "fails" and "to_spare" in finding:
        assert finding["to_spare"] < 1e-9 or finding["figure"] == 0.0 or "loses" in finding["message"], finding
    if "missing" in finding:
        assert finding["verdict"] == "unknown", finding
        assert finding["message"].startswith(f"Type {finding['missing']}: "), finding


def check_geometry(document):
    """What the figures say together: the homography carries the panel's corners to the raw picture's, and all light
    lands somewhere."""
    figures = document["figures"]
    h = figures["homography_panel_to_screen"]
    corners = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)]
    for i, (a, b) in enumerate(corners):
        x, y, w = (h[3 * k] * a + h[3 * k + 1] * b + h[3 * k + 2] for k in range(3))
        assert math.isclose(x / w, figures["raw_corners_m"][2 * i], abs_tol=1e-9)
        assert math.isclose(y / w, figures["raw_corners_m"][2 * i + 1], abs_tol=1e-9)
    assert math.isclose(sum(surface["panel_share"] for surface in document["surfaces"]), 1.0, abs_tol=1e-9)
    clearances = [clearance["clearance_m"] for clearance in document["clearances"]]
    assert clearances == sorted(clearances)


def test_figures_by_hand():
    _, document = check_json(SMALL)
    figures = document["figures"]
    assert math.isclose(figures["throw_distance_m"], 6.0 - 3.0 - 0.13, abs_tol=1e-9)
    assert math.isclose(figures["throw_ratio_needed"], 2.87 / 2.0, abs_tol=1e-9)
    assert math.isclose(figures["picture_least_width_m"], 2.87 / 1.6, abs_tol=1e-9)
    assert math.isclose(figures["picture_greatest_width_m"], 2.87 / 1.3, abs_tol=1e-9)
    # The lens stands on the picture's centre line, 2.5 m along the wall.
    assert math.isclose(figures["shift_h_share"], 0.0, abs_tol=1e-9)
    _, far = check_json(SMALL, "--arrangement", "far")
    throw = next(f for f in far["findings"] if f["check"] == "beam.throw_range")
    # 2 m of picture at a throw ratio of 2 want 4 m of distance.
    assert throw["verdict"] == "fails" and throw["cure"] == "farther"
    assert math.isclose(throw["cure_amount"], 4.0 - 2.87, abs_tol=1e-9)
    assert throw["message"] == ("Move the machine 1.130 m farther from the picture: the wanted picture needs a throw "
                                "ratio of 1.44, and the lens has 2.00 to 3.00."), throw["message"]
    # Eye 2.5 m, 2 m: 4 m from the screen, its centre 1.4625 m up and the eye 1.2 m.
    chair = next(seat for seat in document["seats"] if seat["seat"] == "chair")
    assert math.isclose(chair["distance_m"], math.hypot(4.0, 1.4625 - 1.2), abs_tol=1e-9)
    assert {seat["seat"] for seat in document["seats"]} == {"chair", "row2:1", "row2:2", "row2:3"}


def test_set():
    before = pathlib.Path(SMALL).read_bytes()
    for value in ("3.2", "320 cm", "3.2 m", "3 m + 200 mm"):
        _, document = check_json(SMALL, "--set", f"places.p.off_m={value}")
        assert math.isclose(document["figures"]["throw_distance_m"], 2.67, abs_tol=1e-9), value
    _, document = check_json(SMALL, "--set", "places.p.off_m=3.2", "--set", "places.p.off_m=3.1", "--set",
                             "job.title=Höhe “1”")
    assert math.isclose(document["figures"]["throw_distance_m"], 2.77, abs_tol=1e-9), "the last one counts"
    assert document["job"] == "Höhe “1”"
    assert pathlib.Path(SMALL).read_bytes() == before
    for place, value in (("places.q.off_m", "=3"), ("places.p.of_m", "=3"), ("nothing", ""),
                         ("places.p.off_m", "=3,2"), ("places.p.off_m", "=nan"), ("places.p.off_m", "=2000")):
        code, out, err = run("check", SMALL, "--set", place + value)
        assert code == 2 and out == "" and err.startswith(f"plumbeam: --set {place}: ") and err.count("\n") == 1, err


def test_text():
    code, out, err = run("check", SMALL)
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "Small room, revision 1", lines[0]
    for line in ("  Arrangement     From the ceiling (ceiling)", "  Machine         Machine one (one)",
                 "  Lens            Zoom, \"wide\" (zoom)", "  Place           Ceiling, middle (p)",
                 "  Mount           Tube (tube)", "  Wanted picture  2.000 m x 1.125 m"):
        assert line in lines, line
    assert any(line.startswith("  Throw distance  2.870 m +/- ") for line in lines)
    stands = "  Lens            2.500 m off Right wall, 2.870 m off Front wall, "
    assert any(line.startswith(stands) for line in lines)
    assert "Not looked at: far;" in out
    assert "local code" in out and "licensed trades" in out
    # Everything that holds is told too, and seats that say the same are one line.
    assert "Distance in picture heights: " in out and "and 3 more seats" in out
    order = [line.split()[0] for line in lines if line[:2] == "  " and line[2:3] != " " and line.split()[0] in RANK]
    assert order == sorted(order, key=RANK.get) and len(order) > 20
    assert max(len(line) for line in lines) <= 120, max(lines, key=len)
    _, every, _ = run("check", SMALL, "--arrangement", "all")
    assert every.count("Small room, revision 1") == 2 and "Not looked at" not in every


def test_feet_and_inches():
    _, out, _ = run("check", SMALL, "--set", "job.units=imperial")
    # 2 m = 78.740 in = 6 ft 6.74 in; 1.125 m = 44.291 in = 3 ft 8.29 in; to the nearest sixteenth.
    assert "  Wanted picture  6' 6 3/4\" x 3' 8 5/16\"" in out.splitlines(), out
    assert " mm" not in out.split("Findings:")[0]


def test_nothing_there():
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "empty.plumbeam"
        path.write_text('{"plumbeam": 1, "colour": "blue"}\n', encoding="utf-8")
        code, document = check_json(str(path))
        assert document["solved"] is False and "arrangement" not in document
        assert document["unknown_keys"] == ["colour"]
        assert document["verdict"] == "unknown" and code == 0
        code, out, _ = run("check", str(path))
        assert code == 0 and "Job without a title" in out and "colour means nothing to this version" in out, out
        code, out, _ = run("check", str(path), "--strict")
        assert code == 1
        code, out, _ = run("trial", str(path))
        assert code == 0 and "no machine, lens or place" in out, out
        code, out, _ = run("trial", str(path), "--csv")
        assert code == 0 and out.count("\r\n") == 1


def test_plans_that_cannot_work():
    """Bad plans are findings: valid JSON, no crash, an exit code of 0 or 1."""
    changes = (
        "places.p.off_m=6", "places.p.off_m=5.87", "places.p.off_m=7", "places.p.off_m=-3", "places.p.drop_m=20",
        "places.p.along_m=900", "places.p.height_m=-200", "places.p.out_of_level_deg=20", "screens.wall.width_m=0.05",
        "screens.wall.width_m=200", "screens.wall.height_m=200", "screens.wall.lean_deg=80", "screens.wall.lit=rear",
        "screens.wall.wall=nothing", "screens.wall.stand_off_mm=3000", "walls.front.x_m=0", "walls.front.y_m=-6",
        "ceilings.flat.slope_deg=89", "ceilings.flat.height_m=0.1", "machines.one.panel_h_px=65536",
        "machines.one.width_mm=10000", "machines.one.lens_forward_mm=5000", "lenses.zoom.throw_ratio_wide=0.01",
        "lenses.zoom.throw_ratio_tele=0.5", "lenses.zoom.pupil_behind_mm=2000", "lenses.zoom.shift_up_pct=-300",
        "lenses.zoom.offset_form=ratio", "lenses.zoom.data=pairs", "arrangements.ceiling.yaw_deg=89",
        "arrangements.ceiling.pitch_deg=-89", "arrangements.ceiling.attitude=solved",
        "arrangements.ceiling.mount=none", "arrangements.ceiling.screen=none", "arrangements.ceiling.machine=none",
        "arrangements.ceiling.lens=none",
        "arrangements.ceiling.place=none", "arrangements.ceiling.picture_aspect=10", "job.arrangement=none",
        "rows.row2.count=10000", "rows.row2.curve_radius_m=0.001", "mounts.tube.head_to_holes_mm=2000",
    )
    plans = [(change,) for change in changes] + list(itertools.combinations(changes[::5], 2))
    for plan in plans:
        arguments = [part for change in plan for part in ("--set", change)]
        code, document = check_json(SMALL, *arguments)
        assert (code == 1) == (document["verdict"] == "fails"), plan
        for finding in document["findings"]:
            check_finding(finding)
        code, _, err = run("check", SMALL, *arguments)
        assert code in (0, 1) and err == "", (plan, err)


# ---- trial --------------------------------------------------------------------------


def test_trial():
    for path in (SMALL, *DEMOS):
        job = json.loads(pathlib.Path(path).read_text(encoding="utf-8"))
        count = len(job["machines"]) * len(job["lenses"]) * len(job["places"])
        code, out, err = run("trial", path, "--json")
        assert (code, err) == (0, "")
        document = load(out)
        assert document["plumbeam_trial"] == 1 and len(document["lines"]) == count
        code, out, err = run("trial", path, "--csv")
        assert (code, err) == (0, "")
        check_csv(out, document["lines"])
        code, out, err = run("trial", path)
        assert (code, err) == (0, "")
        rows = [line for line in out.splitlines() if line.split(" ")[0] in RANK]
        assert len(rows) == count
        assert [row.split(" ")[0] for row in rows] == [line["verdict"] for line in document["lines"]]
        assert all(row.endswith(line["message"]) for row, line in zip(rows, document["lines"]))


def check_csv(text, lines):
    """RFC 4180, read back to what JSON says."""
    assert text.endswith("\r\n") and "\n" not in text.replace("\r\n", "")
    rows = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    assert len(rows) == len(lines)
    for row, line in zip(rows, lines):
        assert None not in row and None not in row.values(), row
        for key, cell in row.items():
            value = line.get(key)
            if value is None:
                assert cell == "", (key, cell)
            elif isinstance(value, bool):
                assert cell == str(value).lower(), (key, cell)
            elif isinstance(value, (int, float)):
                assert float(cell) == value, (key, cell)
            else:
                assert cell == value, (key, cell)
        assert set(line) <= set(row)


def test_trial_by_hand():
    _, out, _ = run("trial", SMALL, "--json")
    zoom, far = load(out)["lines"]
    assert (zoom["lens"], zoom["place"], zoom["mount"], zoom["screen"]) == ("zoom", "p", "tube", "wall")
    assert zoom["square_on"] and zoom["verdict"] != "fails", zoom
    assert math.isclose(zoom["throw_ratio"], 1.435, abs_tol=1e-9)
    assert math.isclose(zoom["throw_room_wide_ratio"], 0.135, abs_tol=1e-9)
    assert math.isclose(zoom["throw_room_tele_ratio"], 0.165, abs_tol=1e-9)
    assert math.isclose(far["picture_greatest_m"], 2.87 / 2.0, abs_tol=1e-9) and far["verdict"] == "fails"
    _, out, _ = run("trial", SMALL, "--csv")
    assert next(csv.DictReader(io.StringIO(out)))["lens"] == "zoom"


# ---- export ----------------------------------------------------------------------------


def test_export_usage():
    refused(2, "export: -o OUT is missing; see: plumbeam export --help", "export", SMALL)
    refused(2, "export: OUT must end in .svg or .pdf, or in .csv with --table", "export", SMALL, "-o", "plan.png")
    for ending in (".dxf", ".glb"):
        refused(2, f"export: this version does not write {ending} files", "export", SMALL, "-o", f"plan{ending}")
    refused(2, "--view top: there are plan, side, picture and ceiling", "export", SMALL, "-o", "a.pdf", "--view",
            "top")
    refused(2, "--paper a5: there are a4, a3 and letter", "export", SMALL, "-o", "a.pdf", "--paper", "a5")
    with tempfile.TemporaryDirectory() as folder:
        code, out, err = run("export", SMALL, "-o", f"{folder}/no/such/folder/plan.pdf")
        assert code == 3 and out == "" and f"{folder}/no/such/folder/plan.pdf" in err and err.count("\n") == 1, err


def test_export():
    with tempfile.TemporaryDirectory() as folder:
        for view, paper in (("plan", "a4"), ("side", "a3"), ("picture", "letter"), ("ceiling", "a4")):
            for ending in ("pdf", "svg"):
                path = pathlib.Path(folder) / f"{view}.{ending}"
                code, out, err = run("export", SMALL, "-o", str(path), "--view", view, "--paper", paper)
                assert (code, out, err) == (0, "", ""), err
                content = path.read_bytes()
                if ending == "svg":
                    ElementTree.fromstring(content)
                else:
                    assert content.startswith(b"%PDF-") and content.rstrip().endswith(b"%%EOF")
        assert len(list(pathlib.Path(folder).iterdir())) == 8, "nothing but the sheets is left behind"


QUESTIONS = ["all", "hidden", "angle", "heights", "look-up", "off-axis", "c-value", "text", "pixels", "luminance",
             "contrast", "noise"]


def test_export_usage_of_questions():
    words = ", ".join(QUESTIONS[:-1]) + " and " + QUESTIONS[-1]
    refused(2, f"--ask taste: there are {words}", "export", DEMOS[0], "-o", "a.pdf", "--ask", "taste")
    refused(2, f"--ask : there are {words}", "export", DEMOS[0], "-o", "a.pdf", "--ask", "")
    refused(2, "--seat a: there is no such seat; the job's 4 run from chair to row2:3", "export", SMALL, "-o", "a.pdf",
            "--seat", "a")
    code, out, err = run("export", DEMOS[0], "-o", "a.pdf", "--seat", "row9:9")
    assert (code, out) == (2, "") and err.startswith("plumbeam: --seat row9:9: there is no such seat; the job's "), err
    assert not pathlib.Path("a.pdf").exists()


def drawn_words(folder, demo, *options):
    path = pathlib.Path(folder) / "asked.pdf"
    code, out, err = run("export", demo, "-o", str(path), "--paper", "a3", *options)
    assert (code, out, err) == (0, "", ""), err
    return page_text(path, 1)


def test_export_questions():
    """The plan writes the figure of the seat that the check of the question names, as check --json has it."""
    checks = {"hidden": ("people.hidden", 100.0, 1), "look-up": ("people.look_up", 180.0 / math.pi, 1),
              "off-axis": ("people.off_axis", 180.0 / math.pi, 1), "heights": ("people.picture_heights", 1.0, 1),
              "noise": ("light.noise", 1.0, 1)}
    with tempfile.TemporaryDirectory() as folder:
        for demo in DEMOS:
            findings = check_json(demo)[1]["findings"]
            for word in QUESTIONS:
                text = drawn_words(folder, demo, "--view", "plan", "--ask", word)
                assert "shape: " in text, (demo, word)
                if word not in checks:
                    continue
                check, scale, places = checks[word]
                figure = next(f["figure"] for f in findings if f["check"] == check and "figure" in f)
                assert f"{figure * scale:.{places}f}" in text, (demo, word, figure)
        text = drawn_words(folder, DEMOS[1], "--view", "plan", "--ask", "off-axis")
        assert "60° at the far edge" in text and "AVIXA V202.01:2016" in text, text


def test_export_picture_of_a_seat():
    with tempfile.TemporaryDirectory() as folder:
        demo = DEMOS[0]
        text = drawn_words(folder, demo, "--view", "picture", "--ask", "hidden")
        assert "hidden from row1:4" in text and "hides 5.3" in text and "shadows 2.6" in text, text
        text = drawn_words(folder, demo, "--view", "picture", "--seat", "row3:1")
        assert "hidden from row3:1" in text or "hides" not in text, text
        assert "lx all over" in text, text
        text = drawn_words(folder, demo, "--view", "picture", "--set", "arrangements.a-b.pitch_deg=8")
        assert "brightest" in text and "machine’s light" in text and "all over" not in text, text


# ---- sheets ----------------------------------------------------------------------------


def pages(path):
    """Sizes of a PDF's pages in whole points, by pdfinfo (poppler-utils)."""
    told = subprocess.run(["pdfinfo", "-l", "999", str(path)], capture_output=True, check=True, text=True).stdout
    return [tuple(round(float(word)) for word in line.split(":")[1].split()[:3:2])
            for line in told.splitlines() if line.startswith("Page ") and "size:" in line]


def page_text(path, page):
    return subprocess.run(["pdftotext", "-f", str(page), "-l", str(page), "-raw", str(path), "-"], capture_output=True,
                          check=True, text=True).stdout


def test_sheets_usage():
    refused(2, "sheets: -o OUT is missing; see: plumbeam sheets --help", "sheets", SMALL)
    refused(2, "sheets: OUT must end in .pdf", "sheets", SMALL, "-o", "a.svg")
    refused(2, "--paper a5: there are a4, a3 and letter", "sheets", SMALL, "-o", "a.pdf", "--paper", "a5")
    for only, wrong in (("holes", "holes"), ("survey,plans", "plans"), ("survey,", ""), ("", "")):
        refused(2, f"--only: there is no sheet “{wrong}”; there are survey, plan, side, picture and ceiling", "sheets",
                SMALL, "-o", "a.pdf", "--only", only)
    refused(2, "sheets takes one job file, not 0; see: plumbeam sheets --help", "sheets", "-o", "a.pdf")
    code, _, err = run("sheets", SMALL, "-o", "a.pdf", "--view", "plan")
    assert code == 2 and "--view" in err, err
    with tempfile.TemporaryDirectory() as folder:
        code, out, err = run("sheets", SMALL, "-o", f"{folder}/no/such/folder/all.pdf")
        assert code == 3 and out == "" and f"{folder}/no/such/folder/all.pdf" in err and err.count("\n") == 1, err
        kept = pathlib.Path(folder) / "kept.pdf"
        kept.write_text("old")
        refused(2, "cannot read nowhere.plumbeam: No such file or directory", "sheets", "nowhere.plumbeam", "-o",
                str(kept))
        assert kept.read_text() == "old"


def test_sheets():
    # A4 is 210 × 297 mm, A3 297 × 420, Letter 8½ × 11 in; a point is 1/72 in.
    sizes = {"a4": (595, 842), "a3": (842, 1191), "letter": (612, 792)}
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "all.pdf"
        for paper, size in sizes.items():
            code, out, err = run("sheets", SMALL, "-o", str(path), "--paper", paper)
            assert (code, out, err) == (0, "", ""), err
            got = pages(path)
            assert all(page in (size, size[::-1]) for page in got), (paper, got)
            texts = [page_text(path, number) for number in range(1, len(got) + 1)]
            for number, text in enumerate(texts, 1):
                assert f"{number} of {len(got)}" in text, (number, text)
            # Survey first, then a page for each drawing in their order.
            assert "Survey: Room" in texts[0] and len(got) >= 5
            for title, text in zip(("Plan, ", "Side, ", "Picture, ", "Ceiling, "), texts[-4:]):
                assert title in text and "Survey: Room" not in text, (title, text)
        code, out, err = run("sheets", SMALL, "-o", str(path), "--only", "ceiling, plan")
        assert (code, out, err) == (0, "", "") and len(pages(path)) == 2, err
        assert "Plan, " in page_text(path, 1) and "Ceiling, " in page_text(path, 2)
        # Feet and inches go on Letter unless another paper is asked for.
        code, out, err = run("sheets", DEMOS[1], "-o", str(path), "--only", "survey")
        assert (code, out, err) == (0, "", "") and pages(path)[0] == sizes["letter"], err
        # A job with nothing in it still makes a blank.
        empty = pathlib.Path(folder) / "empty.plumbeam"
        empty.write_text('{ "plumbeam": 1, "job": { "title": "" } }')
        code, out, err = run("sheets", str(empty), "-o", str(path), "--only", "survey")
        assert (code, out, err) == (0, "", "") and "Nothing is known yet" in page_text(path, 1), err
        assert sorted(found.name for found in pathlib.Path(folder).iterdir()) == ["all.pdf", "empty.plumbeam"]


# ---- locale and sameness ------------------------------------------------------------------


def german():
    """The environment of a German locale with decimal commas, made here."""
    folder = BUILD / "tests" / "locale"
    folder.mkdir(parents=True, exist_ok=True)
    localedef = shutil.which("localedef") or "/usr/bin/localedef"
    made = subprocess.run([localedef, "-i", "de_DE", "-f", "UTF-8", str(folder / "de_DE.UTF-8")],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False)
    # localedef ends with 1 when it has warnings.
    assert made.returncode in (0, 1) and (folder / "de_DE.UTF-8" / "LC_NUMERIC").is_file(), made.stdout
    env = {"LOCPATH": str(folder), "LC_ALL": "de_DE.UTF-8"}
    printed = subprocess.run(["/usr/bin/printf", "%.1f", "2,5"], stdout=subprocess.PIPE, env={**os.environ, **env},
                             check=True).stdout
    assert printed == b"2,5", f"the locale is not in force: {printed}"
    return env


def test_locale():
    env = german()
    for path in (SMALL, *DEMOS):
        for arguments in (("check", path), ("check", path, "--json"), ("trial", path), ("trial", path, "--csv"),
                          ("trial", path, "--json"), ("check", path, "--json", "--set", "job.units=imperial")):
            here, there = run(*arguments), run(*arguments, env=env)
            assert here == there, f"{arguments} differs in a German locale"
    code, _, _ = run("check", SMALL, "--set", "places.p.off_m=3,2", env=env)
    assert code == 2, "--set takes a point in every locale"
    # Where no locale at all is set, labels still come out as UTF-8.
    assert run("check", DEMOS[0], env={"LC_ALL": "C"}) == run("check", DEMOS[0])


def test_same_twice():
    for path in DEMOS:
        for arguments in (("check", path, "--json", "--arrangement", "all"), ("trial", path, "--json")):
            assert run(*arguments) == run(*arguments)


def main():
    tests = [(name[5:].replace("_", "-"), test) for name, test in globals().items() if name.startswith("test_")]
    print(f"1..{len(tests)}")
    bad = 0
    for number, (name, test) in enumerate(tests, 1):
        try:
            test()
            print(f"ok {number} {name}", flush=True)
        except Exception:  # A failed case is told, and the next one runs.
            bad += 1
            print("\n".join(f"# {line}" for line in traceback.format_exc().splitlines()))
            print(f"not ok {number} {name}", flush=True)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
