#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Reads the #include lines of src/ and include/ and fails on one that its layer may not have.

System headers compile whether or not a folder lists them as a dependency, so the build alone does not hold the
layers apart. Prints TAP.
"""
import os
import pathlib
import re
import sys

LIBC = {
    "assert.h", "ctype.h", "errno.h", "float.h", "inttypes.h", "limits.h", "locale.h", "math.h", "signal.h",
    "stdalign.h", "stdarg.h", "stdatomic.h", "stdbool.h", "stddef.h", "stdint.h", "stdio.h", "stdlib.h",
    "stdnoreturn.h", "string.h", "time.h",
}
# Neither clock, locale, environment nor input and output in the engine; snprintf makes ids. The message of a broken
# invariant is its only output.
ENGINE_LIBC = LIBC - {"assert.h", "ctype.h", "errno.h", "locale.h", "signal.h", "time.h"}
ENGINE_CALL = re.compile(
    r"\b(?:v?f?printf|v?sprintf|f?puts|f?putc|putchar|fopen|fread|fwrite|v?f?s?scanf|getenv|setlocale|system|clock"
    r"|time|s?rand|exit|strto\w+|ato[fil])\s*\("
)
ENGINE_MESSAGE = "include/plumbeam/assert.h"
COMMENT = re.compile(r"/\*.*?\*/|//[^\n]*", re.DOTALL)
POSIX = {"fcntl.h", "sys/stat.h", "sys/types.h", "unistd.h"}

GLIB = r"glib\.h|glib/.*|glib-object\.h"
GIO = r"gio/.*"
JSON = r"json-glib/.*"
# Reading and writing pictures.
PIXBUF = r"gdk-pixbuf/.*|cairo\.h"
CAIRO = r"cairo(-pdf|-svg)?\.h|pango/.*"
GL = r"epoxy/.*|cglm/.*"
GTK = r"gtk/.*|gdk/.*|gsk/.*"

# layer: (system headers beyond libc, layers whose headers it may include)
LAYERS = {
    "engine": (None, []),
    "text": (GLIB, ["engine"]),
    "job": (f"{GLIB}|{GIO}|{JSON}|{PIXBUF}", ["engine", "text"]),
    "draw": (f"{GLIB}|{GIO}|{CAIRO}", ["engine", "text", "job"]),
    "view3d": (f"{GLIB}|{GIO}|{GL}", ["engine", "text", "job"]),
    "app": (f"{GLIB}|{GIO}|{JSON}|{CAIRO}|{GL}|{GTK}", ["engine", "text", "job", "draw", "view3d"]),
    "cli": (f"{GLIB}|{GIO}|{JSON}", ["engine", "text", "job", "draw", "view3d", "app"]),
}
# All that the command line knows of the window: how to start it, and in which colours its 3D view is.
APP_DOORS = ("src/app/app.h", "src/app/view3d-colours.h")
# The document is tested without a display.
APP_DOCUMENT = re.compile(r"src/app/document[^/]*")
MAY_USE_POSIX = {"job", "cli", "app"}

INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*([<"])([^>"]+)[>"]', re.MULTILINE)
DRAWING_CALL = re.compile(r"\b(?:cairo|pango)_\w+ *\(")


def layer_of(path):
    parts = path.split("/")
    return "engine" if parts[0] == "include" else parts[1]


def resolve(path, name, exists):
    """The project's file that a quoted name means, or None."""
    candidates = [os.path.normpath(os.path.join(os.path.dirname(path), name)), f"include/{name}", f"src/{name}"]
    return next((candidate for candidate in candidates if exists(candidate)), None)


def system_trouble(path, layer, name):
    if layer == "engine":
        allowed = name in ENGINE_LIBC
    else:
        pattern = LAYERS["job" if APP_DOCUMENT.fullmatch(path) else layer][0]
        allowed = name in LIBC or (layer in MAY_USE_POSIX and name in POSIX) or re.fullmatch(pattern, name)
    return None if allowed else f"{path}: {layer} may not include <{name}>"


def own_trouble(path, layer, target):
    other = layer_of(target)
    if os.path.dirname(path) == os.path.dirname(target):
        return None
    if target.endswith("-private.h") and other != layer:
        return f"{path}: {target} is private to {other}"
    if path.startswith("include/") and not target.startswith("include/"):
        return f"{path}: a public header includes {target}"
    if other != layer and (other not in LAYERS[layer][1] or (other == "app" and target not in APP_DOORS)):
        return f"{path}: {layer} may not include {target} of {other}"
    return None


def troubles_of(path, text, exists):
    """What is wrong with the includes of one file; exists tells whether a path is a file of the project."""
    layer = layer_of(path)
    if layer not in LAYERS:
        return [f"{path}: no layer has this name"]
    found = []
    for bracket, name in INCLUDE.findall(text):
        if bracket == "<":
            found.append(system_trouble(path, layer, name))
            continue
        target = resolve(path, name, exists)
        found.append(own_trouble(path, layer, target) if target else f"{path}: no file \"{name}\" in the project")
    code = COMMENT.sub(" ", text)
    if layer == "engine" and path != ENGINE_MESSAGE:
        found += [f"{path}: the engine may not call {call.group()}…)" for call in ENGINE_CALL.finditer(code)]
    if layer == "cli" and DRAWING_CALL.search(code):
        found.append(f"{path}: the command line draws by itself")
    return [trouble for trouble in found if trouble]


# path, text, whether it is forbidden: the rules above must be able to fail.
SELF_CHECK = [
    ("src/engine/optics/a.c", "#include <glib.h>\n", True),
    ("src/engine/optics/a.c", "#include <time.h>\n", True),
    ("src/engine/optics/a.c", "fprintf (stderr, message);\n", True),
    ("src/engine/optics/a.c", "/* fprintf (stderr) */ snprintf (id, sizeof id, form);\n", False),
    ("src/engine/optics/a.c", "#  include <math.h>\n", False),
    ("src/engine/optics/a.c", '#include "plumbeam/a.h"\n', False),
    ("src/engine/optics/a.c", '#include "a-private.h"\n', False),
    ("src/engine/optics/a.c", '#include "../sight/b-private.h"\n', False),
    ("src/engine/optics/a.c", '#include "text/c.h"\n', True),
    ("src/engine/optics/a.c", '#include "nowhere.h"\n', True),
    ("include/plumbeam/a.h", "#include <unistd.h>\n", True),
    ("include/plumbeam/a.h", '#include "engine/optics/d.h"\n', True),
    ("src/text/c.c", "#include <glib.h>\n", False),
    ("src/text/c.c", "#include <json-glib/json-glib.h>\n", True),
    ("src/text/c.c", '#include "job/e.h"\n', True),
    ("src/job/e.c", "#include <json-glib/json-glib.h>\n#include <unistd.h>\n", False),
    ("src/job/e.c", "#include <cairo.h>\n#include <gdk-pixbuf/gdk-pixbuf.h>\n", False),
    ("src/job/e.c", "#include <pango/pangocairo.h>\n", True),
    ("src/draw/f.c", '#include <cairo-pdf.h>\n#include <pango/pangocairo.h>\n#include "job/e.h"\n', False),
    ("src/draw/f.c", "#include <gtk/gtk.h>\n", True),
    ("src/draw/f.c", '#include "engine/sight/b-private.h"\n', True),
    ("src/cli/g.c", '#include "draw/f.h"\n', False),
    ("src/cli/g.c", "cairo_t *cr = cairo_create (surface);\n", True),
    ("src/cli/g.c", "#include <cairo.h>\n", True),
    ("src/view3d/h.c", "#include <epoxy/gl.h>\n#include <cglm/cglm.h>\n", False),
    ("src/view3d/h.c", "#include <gtk/gtk.h>\n", True),
    ("src/app/i.c", "#include <gtk/gtk.h>\n", False),
    ("src/app/i.c", '#include "cli/l.h"\n', True),
    ("src/app/document-k.c", "#include <gio/gio.h>\n", False),
    ("src/app/document-k.c", "#include <gtk/gtk.h>\n", True),
    ("src/cli/g.c", '#include "app/app.h"\n', False),
    ("src/cli/g.c", '#include "app/window.h"\n', True),
    ("src/spare/j.c", "", True),
]
SELF_CHECK_FILES = {
    "include/plumbeam/a.h", "src/engine/optics/a-private.h", "src/engine/optics/d.h",
    "src/engine/sight/b-private.h", "src/text/c.h", "src/job/e.h", "src/draw/f.h", "src/app/app.h",
    "src/app/window.h", "src/cli/l.h",
}


def report(number, name, troubles):
    print(f"{'not ok' if troubles else 'ok'} {number} {name}")
    for trouble in troubles:
        print(f"# {trouble}")
    return not troubles


def main():
    root = pathlib.Path(__file__).resolve().parent.parent
    blind = [
        f"{path}: {text!r} should be {'refused' if forbidden else 'accepted'}"
        for path, text, forbidden in SELF_CHECK
        if bool(troubles_of(path, text, SELF_CHECK_FILES.__contains__)) != forbidden
    ]
    files = sorted(
        path for top in ("src", "include") for path in (root / top).rglob("*") if path.suffix in (".c", ".h")
    )
    found = [] if files else ["no source file was found"]
    for path in files:
        found += troubles_of(
            path.relative_to(root).as_posix(),
            path.read_text(encoding="utf-8"),
            lambda name: (root / name).is_file(),
        )
    print("1..2")
    good = [report(1, "the rules refuse what they should", blind), report(2, "includes keep to their layer", found)]
    return 0 if all(good) else 1


if __name__ == "__main__":
    sys.exit(main())
