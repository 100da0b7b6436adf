/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Listening to `changed` with patience: while something is dragged the drawing
 * under the hand comes first, and whoever listens this way follows when the
 * program has nothing more urgent to do, once for several steps.
 */
#pragma once

#include "app/document.h"

/* Calls changed (listener) after every change; ends with the listener. */
void plumb_document_listen_later (PlumbDocument *document, gpointer listener, void (*changed) (gpointer listener));
