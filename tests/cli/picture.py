#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`plumbeam picture` from outside, with no display: what it writes, what it refuses. Prints TAP.

The pictures are read by a PNG decoder of our own over Python's zlib, checked against the sums that the format keeps
of itself; the images that are thrown are made by the same hand.
"""
import os
import pathlib
import shutil
import struct
import subprocess
import sys
import tempfile
import traceback
import zlib

import numpy

SOURCE = pathlib.Path(os.environ["PLUMB_SOURCE_DIR"])
PROGRAM = os.environ["PLUMB_EXECUTABLE"]
LOFT = str(SOURCE / "data/demo/net-loft.plumbeam")
MUSIC = str(SOURCE / "data/demo/music-room.plumbeam")
FOLDER = pathlib.Path(tempfile.mkdtemp())
BARE = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY", "XDG_RUNTIME_DIR")}


def run(*arguments, env=None):
    done = subprocess.run([PROGRAM, *arguments], stdin=subprocess.DEVNULL, capture_output=True, timeout=240,
                          env={**BARE, **(env or {})}, check=False)
    return done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8")


def chunks(data):
    assert data[:8] == b"\x89PNG\r\n\x1a\n", data[:8]
    at = 8
    while at < len(data):
        size, kind = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 8:at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size:at + 12 + size])[0] == zlib.crc32(kind + body), kind
        yield kind, body
        at += 12 + size


def unfilter(kind, line, before, step):
    """One row by the five filters of the PNG specification, section 9."""
    out = bytearray(line)
    for i in range(len(out)):
        left = out[i - step] if i >= step else 0
        up = before[i]
        corner = before[i - step] if i >= step else 0
        if kind == 1:
            out[i] = (out[i] + left) & 255
        elif kind == 3:
            out[i] = (out[i] + (left + up) // 2) & 255
        elif kind == 4:
            guess = left + up - corner
            near = min((abs(guess - left), 0, left), (abs(guess - up), 1, up), (abs(guess - corner), 2, corner))
            out[i] = (out[i] + near[2]) & 255
    return out


def read_png(path):
    """Rows of red, green, blue, 0 to 255."""
    head, packed = None, b""
    for kind, body in chunks(pathlib.Path(path).read_bytes()):
        if kind == b"IHDR":
            head = struct.unpack(">IIBBBBB", body)
        elif kind == b"IDAT":
            packed += body
    width, height, depth, colour, _, _, interlaced = head
    assert depth == 8 and colour == 2 and interlaced == 0, head
    raw = zlib.decompress(packed)
    stride, rows, before = width * 3, [], bytes(width * 3)
    for y in range(height):
        line = raw[y * (stride + 1):(y + 1) * (stride + 1)]
        if line[0] == 0:
            before = line[1:]
        elif line[0] == 2:
            before = ((numpy.frombuffer(line[1:], numpy.uint8).astype(int)
                       + numpy.frombuffer(bytes(before), numpy.uint8)) % 256).astype(numpy.uint8).tobytes()
        else:
            before = unfilter(line[0], line[1:], before, 3)
        rows.append(bytes(before))
    return numpy.frombuffer(b"".join(rows), numpy.uint8).reshape(height, width, 3).astype(int)


def write_png(name, rows, width=None, height=None):
    """8-bit RGB, unfiltered; width and height may lie."""
    rows = numpy.asarray(rows, numpy.uint8)

    def chunk(kind, body):
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
    head = struct.pack(">IIBBBBB", width or rows.shape[1], height or rows.shape[0], 8, 2, 0, 0, 0)
    raw = b"".join(b"\0" + row.tobytes() for row in rows)
    path = FOLDER / name
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(raw))
                     + chunk(b"IEND", b""))
    return str(path)


def take(*arguments, job=LOFT, size="320x200", env=None):
    """The picture of a job, as rows."""
    out = FOLDER / "out.png"
    out.unlink(missing_ok=True)
    code, said, err = run("picture", job, "-o", str(out), "--size", size, *arguments, env=env)
    assert (code, said, err) == (0, "", ""), (arguments, code, said, err)
    return read_png(out)


def refused(code, message, *arguments, env=None):
    """Ends with the code and one sentence, and leaves what was there."""
    out = FOLDER / "kept.png"
    out.write_bytes(b"kept")
    got, said, err = run("picture", *arguments, "-o", str(out), env=env)
    assert (got, said) == (code, ""), (arguments, got, said, err)
    assert err == f"plumbeam: {message}\n", (arguments, err)
    assert out.read_bytes() == b"kept"


def differs(a, b):
    """Share of the pixels that differ by more than a twentieth."""
    return float((numpy.abs(a - b).max(axis=2) > 12).mean())


# ---- pictures -----------------------------------------------------------------------------------


def test_every_place():
    """From each place a picture of its own of the size asked for, the same bytes twice."""
    seen = {}
    for job, seat in ((LOFT, "row2:3"), (MUSIC, None)):
        places = ["room", "front", "lens"] + ([f"seat:{seat}"] if seat else [])
        for place in places:
            picture = take("--from", place, job=job)
            assert picture.shape == (200, 320, 3), picture.shape
            assert picture.std() > 5, (place, picture.std())
            # From the lens the picture looks the same in any room.
            for other, before in [(where, was) for where, was in seen.items() if where[0] == job]:
                assert differs(picture, before) > 0.1, (place, other)
            seen[(job, place)] = picture
    again = take("--from", "room")
    assert (again == seen[(LOFT, "room")]).all()


def test_sizes():
    """Usual size, odd sizes, one pixel, and one past what a graphics driver draws at once."""
    out = FOLDER / "usual.png"
    assert run("picture", LOFT, "-o", str(out)) == (0, "", "")
    assert read_png(out).shape == (1000, 1600, 3)
    for size, shape in (("333x217", (217, 333, 3)), ("1X1", (1, 1, 3)), ("64×48", (48, 64, 3))):
        assert take(size=size).shape == shape, size
    wide = take("--from", "front", size="16384x24")
    assert wide.shape == (24, 16384, 3)
    # Tiles meet: no column differs from both its neighbours more than neighbours do elsewhere.
    steps = numpy.abs(numpy.diff(wide, axis=1)).max(axis=(0, 2))
    assert steps.size == 16383


def test_tiles():
    """A large picture is the small one, but finer: halved twice they agree."""
    small, large = take("--from", "front", size="400x250"), take("--from", "front", size="1600x1000")
    mean = large.reshape(250, 4, 400, 4, 3).mean(axis=(1, 3))
    assert numpy.abs(mean - small).mean() < 4, numpy.abs(mean - small).mean()


def test_content():
    """What is thrown is what lands on the screen: a red image is red, left and right as the viewer has them."""
    rows = numpy.zeros((90, 160, 3), int)
    rows[:, :80] = (255, 0, 0)
    rows[:, 80:] = (0, 0, 255)
    image = write_png("halves.png", rows)
    picture = take("--from", "front", "--content", image)
    black = take("--from", "front", "--content", "black")
    light = picture - black
    red = numpy.argwhere((light[:, :, 0] > 60) & (light[:, :, 2] < 30))
    blue = numpy.argwhere((light[:, :, 2] > 60) & (light[:, :, 0] < 30))
    assert len(red) > 1000 and len(blue) > 1000, (len(red), len(blue))
    assert red[:, 1].mean() + 20 < blue[:, 1].mean(), (red[:, 1].mean(), blue[:, 1].mean())
    for pattern in ("grid", "landscape", "text", "white"):
        assert differs(take("--from", "front", "--content", pattern), black) > 0.05, pattern


def with_orientation(jpeg, orientation):
    """A JPEG with an Exif segment that holds the orientation alone (Exif 2.3, tag 0x0112)."""
    tiff = b"MM\0*\0\0\0\x08" + b"\0\x01" + struct.pack(">HHIHH", 0x0112, 3, 1, orientation, 0) + b"\0\0\0\0"
    body = b"Exif\0\0" + tiff
    assert jpeg[:2] == b"\xff\xd8"
    return jpeg[:2] + b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body + jpeg[2:]


def test_orientation():
    """A photograph is turned as its camera says: orientation 3 is upside down."""
    rows = numpy.zeros((90, 160, 3), int)
    rows[:45] = (255, 0, 0)
    rows[45:] = (0, 0, 255)
    plain = FOLDER / "plain.jpg"
    subprocess.run(["convert", write_png("above.png", rows), "-quality", "95", "-sampling-factor", "4:4:4", str(plain)],
                   check=True, timeout=60)
    turned = FOLDER / "turned.jpg"
    turned.write_bytes(with_orientation(plain.read_bytes(), 3))
    middles = []
    for path in (plain, turned):
        picture = take("--from", "front", "--content", str(path))
        red = numpy.argwhere(picture[:, :, 0] - picture[:, :, 2] > 60)
        blue = numpy.argwhere(picture[:, :, 2] - picture[:, :, 0] > 60)
        assert len(red) > 500 and len(blue) > 500, (path, len(red), len(blue))
        middles.append(red[:, 0].mean() - blue[:, 0].mean())
    assert middles[0] < -10 and middles[1] > 10, middles


def test_dark():
    """The dark theme is the same room at a fifth of the light."""
    assert take("--dark").mean() < 0.6 * take().mean()


def test_changed():
    """--arrangement and --set show in the picture; nothing is written into the job."""
    before = pathlib.Path(LOFT).read_bytes()
    usual = take()
    assert differs(usual, take("--arrangement", "c-d")) > 0.001
    assert differs(usual, take("--set", "places.a.off_m=5.6")) > 0.001
    assert pathlib.Path(LOFT).read_bytes() == before


def test_light():
    """A light state lifts black on the screen; the dark room is what is meant without one."""
    dark = take("--from", "front", "--content", "black")
    assert (take("--from", "front", "--content", "black", "--light", "dark") == dark).all()
    # Grey in the middle of the screen, lighter with every lamp that is on: 18 lx, then 228 lx.
    film, cleaning = (take("--from", "front", "--content", "black", "--light", state)[100, 160].mean()
                      for state in ("film", "cleaning"))
    assert dark[100, 160].mean() + 3 < film + 3 < cleaning - 60, (dark[100, 160], film, cleaning)


def halves(picture):
    """Both pictures over their feet, from the layout that the design gives: 76 px of foot and 2 of rule, halved."""
    height, width = picture.shape[:2]
    foot, rule = 38, 2 if width % 2 == 0 else 1
    half = (width - rule) // 2
    return picture[:height - foot, :half], picture[:height - foot, half + rule:], picture[:, half:half + rule]


def test_before():
    """Before and after are the pictures that each would be alone, with a rule between and words below."""
    both = take("--from", "front", "--before", "light:cleaning", "--light", "film", size="402x240")
    before, after, rule = halves(both)
    alone = f"{before.shape[1]}x{before.shape[0]}"
    assert before.shape == after.shape == (202, 200, 3), before.shape
    assert (before == take("--from", "front", "--light", "cleaning", size=alone)).all()
    assert (after == take("--from", "front", "--light", "film", size=alone)).all()
    assert (rule == (0x5e, 0x2f, 0x73)).all(), rule[0]
    feet = both[202:]
    assert numpy.abs(feet[:, :200] - feet[0, 190]).max() > 100 and numpy.abs(feet[:, 202:] - feet[0, 190]).max() > 100
    assert differs(feet[:, :200], feet[:, 202:]) > 0.01, "each says its own"
    # The camera is that of after, so another arrangement's screen stands where this one's does.
    before, after, _ = halves(take("--from", "front", "--before", "a-short", size="402x240"))
    assert (after == take("--from", "front", size=alone)).all()
    assert differs(before, after) > 0.05, differs(before, after)
    tilted = ("--from", "front", "--content", "white", "--set", "arrangements.a-b.pitch_deg=-8")
    before, after, _ = halves(take(*tilted, "--before", "uncorrected", size="402x240"))
    lit = [numpy.argwhere(half.min(axis=2) > 215)[:, 0] for half in (before, after)]
    assert lit[0].max() > lit[1].max(), "the whole panel reaches further down than the picture fitted into it"


# ---- what is refused ----------------------------------------------------------------------------------


def test_refused_sizes():
    """A size that is none, or too large, is refused with a sentence."""
    for size in ("0x10", "10", "10x", "x10", "16385x10", "10x16385", "-5x5", "1e3x5", "10x10x10", "", "10 x 10",
                 "99999999999999999999x1", "10x1 "):
        refused(2, f"--size {size}: a size is WIDTHxHEIGHT in pixels, each from 1 to 16384, such as 1600x1000",
                LOFT, "--size", size)


def test_refused_places():
    """A place that is not there is named."""
    refused(2, "--from roof: there are room, front, lens and seat:ID", LOFT, "--from", "roof")
    code, out, err = run("picture", LOFT, "-o", str(FOLDER / "x.png"), "--from", "seat:nobody")
    assert (code, out) == (2, "") and "there is no such seat; the job's 19 run from wheelchair to row3:6" in err, err
    empty = FOLDER / "empty.plumbeam"
    empty.write_text('{\n  "plumbeam": 1\n}\n', encoding="utf-8")
    refused(2, "--from room: the job has no walls yet", str(empty))
    refused(2, "--from lens: the arrangement has no beam", str(empty), "--from", "lens")
    refused(2, "--from front: the arrangement has no screen", str(empty), "--from", "front")
    refused(2, "--from seat:a: the job has no seats", str(empty), "--from", "seat:a")


def test_refused_comparisons():
    """A light or an arrangement that is not there is named, with those that are; so is a picture with no room."""
    refused(2, "--light night: there is no such light state; the job has dark, film, lesson, cleaning",
            LOFT, "--light", "night")
    refused(2, "--before light:night: there is no such light state; the job has dark, film, lesson, cleaning",
            LOFT, "--before", "light:night")
    refused(2, "--before nobody: there is no such arrangement; there are a-b, c-d, b-d, a-short, uncorrected and "
            "light:STATE", LOFT, "--before", "nobody")
    refused(2, "--before: a picture of both takes 160 pixels each way at least", LOFT, "--before", "c-d", "--size",
            "159x400")


def test_refused_images():
    """A broken, oversized or foreign image is refused, and nothing is allocated for it."""
    dot = write_png("dot.png", [[[9, 9, 9]]])
    gif = FOLDER / "dot.gif"
    subprocess.run(["convert", dot, str(gif)], check=True, timeout=60)
    cases = [
        (str(FOLDER / "none.png"), "there is no such image file"),
        (str(FOLDER), "there is no such image file"),
        (str(gif), "the image is neither PNG nor JPEG"),
        (LOFT, "the image is neither PNG nor JPEG"),
        (write_png("huge.png", [[[9, 9, 9]]], 60000, 60000), "the image has more than 100 million pixels"),
        (write_png("large.png", [[[9, 9, 9]]], 12000, 12000), "the image has more than 100 million pixels"),
    ]
    for path, sentence in cases:
        refused(2, f"--content {path}: {sentence}", LOFT, "--content", path)
    whole = pathlib.Path(write_png("whole.png", numpy.random.default_rng(1).integers(0, 255, (64, 64, 3)))).read_bytes()
    cut = FOLDER / "cut.png"
    cut.write_bytes(whole[:len(whole) // 2])
    code, out, err = run("picture", LOFT, "-o", str(FOLDER / "x.png"), "--content", str(cut))
    assert (code, out) == (2, "") and f"--content {cut}: the image cannot be read: " in err, err


def test_refused_output():
    """OUT is asked for, ends in .png, and has to be somewhere."""
    code, out, err = run("picture", LOFT)
    assert (code, out, err) == (2, "", "plumbeam: picture: -o OUT is missing; see: plumbeam picture --help\n"), err
    code, out, err = run("picture", LOFT, "-o", str(FOLDER / "out.jpg"))
    assert (code, out, err) == (2, "", "plumbeam: picture: OUT must end in .png\n"), err
    code, out, err = run("picture", LOFT, "-o", str(FOLDER / "none" / "out.png"), "--size", "32x20")
    assert (code, out) == (3, "") and "cannot write" in err, (code, err)


# ---- the computer --------------------------------------------------------------------------------------


def test_without_gl():
    """Where there is no OpenGL it ends with 3 and a sentence."""
    for env in ({"__EGL_VENDOR_LIBRARY_FILENAMES": "/nonexistent.json"},
                {"MESA_GL_VERSION_OVERRIDE": "2.1", "MESA_GLES_VERSION_OVERRIDE": "2.0"}):
        code, out, err = run("picture", LOFT, "-o", str(FOLDER / "x.png"), "--size", "32x20", env=env)
        assert (code, out) == (3, ""), (env, code, out, err)
        last = err.strip().splitlines()[-1]
        assert last.startswith("plumbeam: picture: ") and len(last) > 40, err
        assert not (FOLDER / "x.png").exists()


def test_gles():
    """OpenGL ES gives the same picture where desktop OpenGL is too old."""
    usual = take("--from", "room")
    other = take("--from", "room", env={"MESA_GL_VERSION_OVERRIDE": "3.1"})
    assert differs(usual, other) < 0.01, differs(usual, other)


def main():
    wanted = sys.argv[1:]
    tests = [value for name, value in globals().items()
             if name.startswith("test_") and (not wanted or any(word in name for word in wanted))]
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
    shutil.rmtree(FOLDER, ignore_errors=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
