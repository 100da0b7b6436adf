#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A small window from which a file can be dragged: drag-source.py FILE."""
import sys

import gi

gi.require_version("Gdk", "4.0")
gi.require_version("Gtk", "4.0")
from gi.repository import Gdk, Gio, GObject, Gtk  # noqa: E402


def show(application):
    window = Gtk.ApplicationWindow(application=application, title="drag source", default_width=100,
                                   default_height=100)
    value = GObject.Value(Gio.File, Gio.File.new_for_path(sys.argv[1]))
    source = Gtk.DragSource(actions=Gdk.DragAction.COPY, content=Gdk.ContentProvider.new_for_value(value))
    label = Gtk.Label(label="file", hexpand=True, vexpand=True)
    label.add_controller(source)
    window.set_child(label)
    window.present()


def main():
    application = Gtk.Application(flags=Gio.ApplicationFlags.NON_UNIQUE)
    application.connect("activate", show)
    return application.run([])


if __name__ == "__main__":
    sys.exit(main())
