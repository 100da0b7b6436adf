/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A vial of the form: the finding that it shows has its sentence as tooltip,
 * worded when it is asked for.
 */
#pragma once

#include "app/document.h"
#include "app/vial.h"

GtkWidget *plumb_form_vial_new (PlumbDocument *document);
/* NULL: an empty place. Keeps a copy. */
void plumb_form_vial_show (GtkWidget *vial, const PlumbFinding *finding);
