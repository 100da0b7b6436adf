/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Decimals. Reading is held against the C library's strtod, writing against
 * reading: a decimal of n digits that was multiplied by a unit's factor must
 * come out with at most n digits.
 */
#include <math.h>
#include <string.h>

#include "job/number-private.h"
#include "plumbeam/records.h"

#define SEED 20240514

static void
test_known (void)
{
  static const struct {
    const char *text;
    PlumbQuantity quantity;
  } known[] = {
    { "3.2", PLUMB_QUANTITY_M },
    { "0.1", PLUMB_QUANTITY_M },
    { "0", PLUMB_QUANTITY_M },
    { "-0", PLUMB_QUANTITY_M },
    { "1000000", PLUMB_QUANTITY_LM },
    { "2.949575", PLUMB_QUANTITY_M },
    { "1.5", PLUMB_QUANTITY_MM },
    { "140", PLUMB_QUANTITY_MM },
    { "30.141", PLUMB_QUANTITY_DEG },
    { "-89", PLUMB_QUANTITY_DEG },
    { "360", PLUMB_QUANTITY_DEG },
    { "33.3", PLUMB_QUANTITY_PCT },
    { "0.07", PLUMB_QUANTITY_PCT },
    { "1e-07", PLUMB_QUANTITY_PCT },
    { "7", PLUMB_QUANTITY_DEG },
    { "0.3", PLUMB_QUANTITY_RATIO },
    { "0.30000000000000004", PLUMB_QUANTITY_RATIO },
  };

  for (size_t i = 0; i < G_N_ELEMENTS (known); i++)
    {
      char out[G_ASCII_DTOSTR_BUF_SIZE];
      double factor = plumb_quantity_factor (known[i].quantity);
      plumb_decimal_shortest (g_ascii_strtod (known[i].text, NULL) * factor, factor, out);
      g_assert_cmpstr (out, ==, known[i].text);
    }
}

/* A decimal with 1 to `most` digits and a point somewhere, without closing zeros. */
static char *
random_decimal (GRand *rand, int most)
{
  int n = g_rand_int_range (rand, 1, most + 1), point = g_rand_int_range (rand, 0, n + 1);
  GString *text = g_string_new (g_rand_boolean (rand) ? "-" : "");

  if (point == 0)
    g_string_append (text, "0.");
  for (int i = 0; i < n; i++)
    {
      if (i == point && i > 0)
        g_string_append_c (text, '.');
      bool not_zero = i == 0 || i == n - 1;
      g_string_append_c (text, (char) g_rand_int_range (rand, not_zero ? '1' : '0', '9' + 1));
    }
  return g_string_free (text, FALSE);
}

static unsigned
significant_digits (const char *text)
{
  unsigned n = 0;

  for (const char *at = text; *at != '\0' && *at != 'e'; at++)
    n += g_ascii_isdigit (*at) && (n > 0 || *at != '0') ? 1 : 0;
  return n;
}

static void
test_shortest (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (int quantity = 0; quantity < PLUMB_N_QUANTITIES; quantity++)
    for (int i = 0; i < 20000; i++)
      {
        char out[G_ASCII_DTOSTR_BUF_SIZE];
        double factor = plumb_quantity_factor ((PlumbQuantity) quantity);
        g_autofree char *text = random_decimal (rand, 15);
        double member = g_ascii_strtod (text, NULL) * factor;
        plumb_decimal_shortest (member, factor, out);
        /* Exactly, not nearly. */
        g_assert_true (g_ascii_strtod (out, NULL) * factor == member);
        g_assert_cmpuint (significant_digits (out), <=, significant_digits (text));
      }
}

/* Any key value at all, up to seventeen digits. */
static void
test_exact (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (int quantity = 0; quantity < PLUMB_N_QUANTITIES; quantity++)
    for (int i = 0; i < 20000; i++)
      {
        char out[G_ASCII_DTOSTR_BUF_SIZE];
        double factor = plumb_quantity_factor ((PlumbQuantity) quantity);
        double member = g_rand_double_range (rand, -1000.0, 1000.0) * factor;
        plumb_decimal_shortest (member, factor, out);
        g_assert_true (g_ascii_strtod (out, NULL) * factor == member);
      }
}

/* Members that are no product: nearest, within two roundings. */
static void
test_no_product (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (int i = 0; i < 20000; i++)
    {
      char out[G_ASCII_DTOSTR_BUF_SIZE];
      double factor = plumb_quantity_factor (PLUMB_QUANTITY_MM), member = g_rand_double_range (rand, -10.0, 10.0);
      plumb_decimal_shortest (member, factor, out);
      g_assert_cmpfloat (fabs (g_ascii_strtod (out, NULL) * factor - member), <=, 2.3e-16 * fabs (member));
    }
}

static void
test_read (void)
{
  static const char *const odd[] = { "0",
                                     "-0",
                                     "1e22",
                                     "1E-5",
                                     "123456789012345",
                                     "0.000000000000001",
                                     "9007199254740993",
                                     "1e-999",
                                     "1.7976931348623157e308",
                                     "123456789012345678901234567890" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (size_t i = 0; i < G_N_ELEMENTS (odd); i++)
    g_assert_cmpfloat (plumb_decimal_read (odd[i], strlen (odd[i])), ==, g_ascii_strtod (odd[i], NULL));
  for (int i = 0; i < 100000; i++)
    {
      g_autofree char *text = random_decimal (rand, 18);
      double ours = plumb_decimal_read (text, strlen (text)), theirs = g_ascii_strtod (text, NULL);
      g_assert_true (memcmp (&ours, &theirs, sizeof ours) == 0);
    }
  g_assert_true (signbit (plumb_decimal_read ("-0", 2)) != 0);
  g_assert_true (isinf (plumb_decimal_read ("1e999", 5)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/number/known", test_known);
  g_test_add_func ("/number/shortest", test_shortest);
  g_test_add_func ("/number/exact", test_exact);
  g_test_add_func ("/number/no-product", test_no_product);
  g_test_add_func ("/number/read", test_read);
  return g_test_run ();
}
