/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A cure that can be applied as it is said: the machine moved, the drop or the
 * picture changed. What has to be measured, bought or built cannot.
 */
#pragma once

#include "app/document.h"

/* Whether the cure of a finding of the arrangement shown can be applied. */
gboolean plumb_cure_applies (PlumbDocument *document, const PlumbFinding *finding);
/* Applies it as one step, named as the cure is worded; FALSE with a sentence
 * when the document refuses it, nothing is then changed. */
gboolean plumb_cure_apply (PlumbDocument *document, const PlumbFinding *finding, GError **error);
