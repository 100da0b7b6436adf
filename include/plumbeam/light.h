/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Light on the picture and from it: flux, illuminance, screen gain, luminance,
 * room light, contrast, uniformity; the height of a bright beam; fan noise.
 *
 * Photometric units: lm, lx, cd/m². Angles radians, lengths metres, room frame.
 * Nothing here knows of a record; nothing allocates.
 */
#pragma once

#include "plumbeam/optics.h"

/* ---- flux and illuminance ----------------------------------------------------- */

/* What is left of the printed flux. Each share multiplies; 1 = no loss. */
typedef struct {
  double printed_lm;
  double rated_share; /* delivered of the printed figure; the standard lets shipped machines fall to 0.8 */
  double zoom_share;  /* of the wide end, at this zoom position */
  double mode_share;  /* of the mode in which the figure was measured */
  double age_share;
  double dirt_share;
  double glass_share; /* of panes in the beam */
} PlumbFluxChain;
double plumb_flux_lm (const PlumbFluxChain *chain);

/* Light at a zoom position against the wide end. The f-number is taken to run
 * straight with the throw ratio between the ends, and light goes with its
 * inverse square. tele_share in (0, 1]; a fixed lens gives 1. */
double plumb_zoom_light_share (double throw_ratio, double wide_ratio, double tele_ratio, double tele_share);

/* Illuminance at a point of the plane from a panel of uniform light: flux ×
 * panel area per area there, the Jacobian of the map. It does not ask whether
 * the point lies on the lit panel. False when the map is singular or the point
 * is not reached. */
bool plumb_illuminance_lx (const PlumbHomography *panel_to_plane, double flux_lm, PlumbVec2 point, double *lx);
/* Flux that lands on a convex polygon of the plane which lies in the raw
 * picture: flux × area of its pre-image, exact. */
double plumb_flux_on_polygon_lm (const PlumbHomography *panel_to_plane, double flux_lm, const PlumbVec2 *points,
                                 size_t n_points);

/* Nine equal fields of a rectangle, row by row from the bottom left: lx at
 * their centres (ISO/IEC 21118). Mean, least, and the least over the centre.
 * False when a point is not reached. */
typedef struct {
  double field_lx[9];
  double mean_lx, least_lx, centre_lx;
} PlumbNineFields;
bool plumb_nine_fields (const PlumbHomography *panel_to_plane, double flux_lm, const PlumbRect *rect,
                        PlumbNineFields *out);

/* ---- the screen's surface -------------------------------------------------------- */

typedef enum { PLUMB_GAIN_MATT, PLUMB_GAIN_ANGULAR, PLUMB_GAIN_RETRO } PlumbGainKind;
typedef struct {
  PlumbGainKind kind;
  double gain_ratio;    /* at the peak */
  double half_gain_rad; /* where half of it is left, at most π/2 */
} PlumbScreenGain;

/* The angle that the surface's gain falls with: from the normal (matt), from
 * the mirror direction (angular-reflective), from the way back to the lens
 * (retro-reflective). normal is unit. */
double plumb_gain_angle_rad (PlumbGainKind kind, PlumbVec3 normal, PlumbVec3 point, PlumbVec3 lens, PlumbVec3 eye);
/* Gain at such an angle: a power of the cosine for matt (half-gain at 90° is
 * the perfect diffuser), a Gaussian for directional surfaces, whose angle may
 * pass 90°. Models of common practice, no source. */
double plumb_gain_at (const PlumbScreenGain *surface, double angle_rad);
/* Gain of the surface from lens to eye; 0 from behind. */
double plumb_gain_towards (const PlumbScreenGain *surface, PlumbVec3 normal, PlumbVec3 point, PlumbVec3 lens,
                           PlumbVec3 eye);
/* The greatest peak gain that this half-gain angle allows without giving back
 * more light than falls on it. */
double plumb_gain_bound_ratio (PlumbGainKind kind, double half_gain_rad);

/* cd/m² of a surface of this gain under E lux: E g / π. */
double plumb_luminance_cd_m2 (double lx, double gain_ratio);
/* 1 fL = 1 / (π 0.3048²) cd/m². */
double plumb_foot_lamberts (double cd_m2);

/* ---- room light ------------------------------------------------------------------- */

/* Direct light of a lamp on a point of a face (unit normal): all round with
 * flux / 4π, downlight with flux / π times the cosine from straight down.
 * 0 behind the face; a lamp nearer than 1 cm counts as 1 cm away. */
double plumb_lamp_direct_lx (PlumbVec3 lamp, bool down, double flux_lm, PlumbVec3 point, PlumbVec3 normal);
/* What a room's surfaces give back everywhere when `flux_lm` leaves them after
 * its first meeting: the integrating sphere, E = flux / (A (1 − ρ)).
 * mean_reflectance is held below 0.95. */
double plumb_room_bounce_lx (double first_reflected_lm, double room_area_m2, double mean_reflectance);

/* ---- contrast ---------------------------------------------------------------------- */

/* (E_w + E_a) / (E_w / C₀ + E_a): white and black on the screen with the
 * projector's own contrast and the ambient light on it (derived; ANSI/AVIXA
 * V201.01 measures it). Gains weigh the two kinds of light. */
double plumb_system_contrast (double white_lx, double own_contrast, double ambient_lx, double gain_white,
                              double gain_ambient);
/* The inverses. Infinite white is asked for when the wanted ratio is not
 * below the projector's own: then false. */
bool plumb_white_needed_lx (double wanted_ratio, double own_contrast, double ambient_lx, double gain_white,
                            double gain_ambient, double *lx);
/* Ambient light that may fall on the screen; negative when not even darkness
 * helps. */
double plumb_ambient_allowed_lx (double wanted_ratio, double own_contrast, double white_lx, double gain_white,
                                 double gain_ambient);

/* ---- a bright beam over a floor ------------------------------------------------------ */

/* Lowest level that the pyramid of four corner rays (not unit, in order
 * round) reaches within a distance of the lens. */
double plumb_beam_lowest_z_m (PlumbVec3 lens, const PlumbVec3 corner_ray[4], double within_m);

/* ---- fan noise ------------------------------------------------------------------------ */

/* Free field: the level at 1 m less 20 lg r. r is held at 0.1 m. */
double plumb_noise_free_db (double at_1m_db, double distance_m);
/* In a room: L_W = L(1 m) + 10 lg 2π, L_p = L_W + 10 lg (Q / 4πr² + 4 / A)
 * with A = 0.161 V / T (Kuttruff, Room Acoustics; from memory). */
double plumb_noise_room_db (double at_1m_db, double distance_m, double directivity, double volume_m3,
                            double reverberation_s);
