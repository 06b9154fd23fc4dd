// SPDX-License-Identifier: GPL-3.0-or-later
// Photographs through the desk: what is taken, what is refused and why, what a correction keeps.
// The pictures are made here by gdk-pixbuf and checked by their pixels.
#include <lz_photo.h>
#include <string.h>

#include "lab.h"

static Lab lab;
static char *jpeg, *png;

// A red picture with its left half blue.
static char *
make(const char *name, const char *type, int width, int height)
{
  char *path = g_build_filename(lab.folder, name, NULL);
  g_autoptr(GdkPixbuf) p = gdk_pixbuf_new(GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  g_autoptr(GdkPixbuf) left = gdk_pixbuf_new_subpixbuf(p, 0, 0, width / 2, height);
  gdk_pixbuf_fill(p, 0xff0000ff);
  gdk_pixbuf_fill(left, 0x0000ffff);
  ck_assert(gdk_pixbuf_save(p, path, type, NULL, NULL));
  return path;
}

static void
setup(void)
{
  lab_open(&lab, "2027-03-01 12:00");
  lab_station(&lab);
  lab_say(&lab, "system", NULL, "name", "Blue-1", "volume_l", "1800", "role", "treatment", NULL);
  jpeg = make("spot.jpg", "jpeg", 400, 200);
  png = make("velvet.png", "png", 30, 60);
}

static void
teardown(void)
{
  g_free(jpeg);
  g_free(png);
  lab_close(&lab);
}

static LzEntry *
see(const char *photo)
{
  int64_t id = lab_say(&lab, "sighting", NULL, "system", "Blue-1", "sign", "white_spot", "photo",
                       photo, "@who", "MK", NULL);
  return lz_desk_entry(lab.desk, id, NULL);
}

static void
is_blue(GdkPixbuf *p, int x, int y, gboolean blue)
{
  const guchar *at = gdk_pixbuf_read_pixels(p) + y * gdk_pixbuf_get_rowstride(p) +
                     x * gdk_pixbuf_get_n_channels(p);
  ck_assert_msg((at[2] > 200) == blue && (at[0] > 200) == !blue, "%d %d %d", at[0], at[1], at[2]);
}

START_TEST(kept_and_shown)
{
  g_autoptr(LzEntry) entry = see(jpeg);
  ck_assert_uint_eq(strlen(lz_entry_text(entry, "photo")), 64);
  lab_reopen(&lab);
  g_autoptr(GdkPixbuf) whole = lz_photo_of(lab.desk, entry, 1000, NULL);
  ck_assert_int_eq(gdk_pixbuf_get_width(whole), 400);
  is_blue(whole, 10, 100, TRUE);
  is_blue(whole, 390, 100, FALSE);
  g_autoptr(GdkPixbuf) small = lz_photo_of(lab.desk, entry, 100, NULL);
  ck_assert_int_eq(gdk_pixbuf_get_width(small), 100);
  ck_assert_int_eq(gdk_pixbuf_get_height(small), 50);
  g_autoptr(LzEntry) second = see(png);
  g_autoptr(GdkPixbuf) tall = lz_photo_of(lab.desk, second, 1000, NULL);
  ck_assert_int_eq(gdk_pixbuf_get_height(tall), 60);
  LzVerify found;
  ck_assert(lz_desk_verify(lab.desk, &found, NULL));
  ck_assert_int_eq(found.photos, 2);
  ck_assert_int_eq(found.photos_missing, 0);
}
END_TEST

START_TEST(without_one_there_is_none)
{
  int64_t id = lab_say(&lab, "sighting", NULL, "system", "Blue-1", "sign", "velvet", NULL);
  g_autoptr(LzEntry) entry = lz_desk_entry(lab.desk, id, NULL);
  g_autoptr(GError) error = NULL;
  ck_assert_ptr_null(lz_photo_of(lab.desk, entry, 100, &error));
  ck_assert_ptr_null(error);
}
END_TEST

// The camera held upright: EXIF orientation 6 (CIPA DC-008, table 4), the picture turned by a
// quarter to the right.
START_TEST(turned_upright)
{
  static const guint8 exif[] = {0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0,    0,    'M', 'M',
                                0,    42,   0, 0,  0,   8,   0,   1,   0x01, 0x12, 0,   3,
                                0,    0,    0, 1,  0,   6,   0,   0,   0,    0,    0,   0};
  g_autofree char *bytes = NULL, *path = g_build_filename(lab.folder, "up.jpg", NULL);
  gsize n;
  ck_assert(g_file_get_contents(jpeg, &bytes, &n, NULL));
  g_autoptr(GByteArray) turned = g_byte_array_new();
  g_byte_array_append(turned, (guint8 *)bytes, 2);
  g_byte_array_append(turned, exif, sizeof exif);
  g_byte_array_append(turned, (guint8 *)bytes + 2, (guint)n - 2);
  ck_assert(g_file_set_contents(path, (char *)turned->data, turned->len, NULL));
  g_autoptr(LzEntry) entry = see(path);
  g_autoptr(GdkPixbuf) p = lz_photo_of(lab.desk, entry, 1000, NULL);
  ck_assert_int_eq(gdk_pixbuf_get_width(p), 200);
  ck_assert_int_eq(gdk_pixbuf_get_height(p), 400);
  is_blue(p, 100, 10, TRUE); // left is now above
}
END_TEST

static void
refused(const char *photo, const char *why)
{
  const char *words = lab_refused(&lab, LZ_DESK_ERROR_USAGE, "sighting", NULL, "system", "Blue-1",
                                  "sign", "velvet", "photo", photo, NULL);
  ck_assert_msg(strstr(words, "photo: ") && strstr(words, why) &&
                    strstr(words, "accepted is a JPEG or PNG picture"),
                "%s: %s", why, words);
  LzVerify found;
  ck_assert(lz_desk_verify(lab.desk, &found, NULL));
  ck_assert_int_eq(found.photos, 0); // nothing half-written
}

static char *
write_bytes(const char *name, const char *bytes, gsize n)
{
  char *path = g_build_filename(lab.folder, name, NULL);
  ck_assert(g_file_set_contents(path, bytes, (gssize)n, NULL));
  return path;
}

START_TEST(what_is_no_picture_is_refused)
{
  g_autofree char *text = write_bytes("list.jpg", "not a picture", 13);
  g_autofree char *empty = write_bytes("empty.jpg", "", 0);
  g_autofree char *bitmap = make("old.bmp", "bmp", 20, 20);
  g_autofree char *bytes = NULL;
  gsize n;
  ck_assert(g_file_get_contents(png, &bytes, &n, NULL));
  g_autofree char *half = write_bytes("half.png", bytes, n / 2);
  g_autofree char *large = g_malloc0(33 << 20);
  memcpy(large, bytes, n);
  g_autofree char *heavy = write_bytes("heavy.png", large, 33 << 20);
  // a header that promises 60000 x 60000 pixels (PNG specification, IHDR)
  static const guint8 wide[] = {0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60};
  memcpy(bytes + 16, wide, sizeof wide);
  g_autofree char *bomb = write_bytes("bomb.png", bytes, n);
  g_autofree char *none = g_build_filename(lab.folder, "none.jpg", NULL);
  g_autofree char *whole = NULL;
  ck_assert(g_file_get_contents(jpeg, &whole, &n, NULL));
  g_autofree char *torn = write_bytes("torn.jpg", whole, n / 2);
  // the name turns the rest of the sentence around and breaks the line: neither is said
  g_autofree char *turned = write_bytes("gpj\xe2\x80\xae\n.jpg", "no", 2);
  const char *const all[][2] = {{text, "whatever its name says"},
                                {empty, "is empty"},
                                {bitmap, "whatever its name says"},
                                {half, "breaks off"},
                                {torn, "breaks off"},
                                {heavy, "is too large"},
                                {none, "“none.jpg” is no file"},
                                {lab.folder, "is no file"},
                                {turned, "“gpj\xef\xbf\xbd\xef\xbf\xbd.jpg” is no such picture"}};
  for (guint i = 0; i < G_N_ELEMENTS(all); i++)
    refused(all[i][0], all[i][1]);
  refused(bomb, ""); // of its pixels or its broken sum, by the decoder's version
}
END_TEST

START_TEST(pixels_are_limited)
{
  g_autofree char *path = make("many.png", "png", 10001, 5000); // 50,005,000
  refused(path, "has too many pixels");
}
END_TEST

static gboolean
holds(GBytes *bytes, const char *text)
{
  gsize n, length = strlen(text);
  const char *p = g_bytes_get_data(bytes, &n);
  for (gsize i = 0; i + length <= n; i++)
    if (memcmp(p + i, text, length) == 0)
      return TRUE;
  return FALSE;
}

// Where it was taken is in EXIF's GPS directory (CIPA DC-008, 4.6.6) or in a text of the file: of
// all that surrounds the picture nothing is kept.
START_TEST(the_place_is_not_kept)
{
  static const char comment[] = "\xff\xfe\0\x10N 59 W 3 secret", exif[] = "\xff\xe1\0\x0e"
                                                                          "Exif\0\0place!";
  g_autofree char *whole = NULL, *noted = g_build_filename(lab.folder, "noted.png", NULL);
  gsize n;
  ck_assert(g_file_get_contents(jpeg, &whole, &n, NULL));
  g_autoptr(GByteArray) told = g_byte_array_new();
  g_byte_array_append(told, (guint8 *)whole, 2);
  g_byte_array_append(told, (const guint8 *)exif, 16);
  g_byte_array_append(told, (const guint8 *)comment, 18);
  g_byte_array_append(told, (guint8 *)whole + 2, (guint)n - 2);
  g_autofree char *path = write_bytes("told.jpg", (char *)told->data, told->len);
  g_autoptr(GdkPixbuf) p = gdk_pixbuf_new(GDK_COLORSPACE_RGB, FALSE, 8, 9, 9);
  gdk_pixbuf_fill(p, 0);
  ck_assert(gdk_pixbuf_save(p, noted, "png", NULL, "tEXt::Place", "secret", NULL));
  g_autoptr(GBytes) a = lz_photo_read(path, NULL), b = lz_photo_read(noted, NULL);
  ck_assert(a && b);
  ck_assert(!holds(a, "Exif") && !holds(a, "place!") && !holds(a, "N 59"));
  ck_assert(!holds(b, "secret") && holds(b, "IEND"));
}
END_TEST

START_TEST(a_large_one_is_brought_down)
{
  g_autofree char *path = make("wide.jpg", "jpeg", 6000, 3000);
  g_autoptr(LzEntry) entry = see(path);
  g_autoptr(GdkPixbuf) p = lz_photo_of(lab.desk, entry, 10000, NULL);
  ck_assert_int_eq(gdk_pixbuf_get_width(p), 4096);
  ck_assert_int_eq(gdk_pixbuf_get_height(p), 2048);
  is_blue(p, 10, 1000, TRUE);
}
END_TEST

// The file is remembered while a form asks again and again; another picture of that name is not
// taken for it.
START_TEST(what_changed_meanwhile_is_read_anew)
{
  g_autoptr(LzCommand) c =
      lz_command_build("sighting", "system", "Blue-1", "sign", "velvet", "photo", png, NULL);
  LzCommand *one[] = {c};
  ck_assert(lz_desk_check(lab.desk, one, 1, NULL));
  g_autofree char *again = make("velvet.png", "png", 80, 40);
  g_autoptr(LzEntry) entry = see(again);
  g_autoptr(GdkPixbuf) p = lz_photo_of(lab.desk, entry, 1000, NULL);
  ck_assert_int_eq(gdk_pixbuf_get_width(p), 80);
}
END_TEST

START_TEST(checked_only_writes_nothing)
{
  g_autoptr(LzCommand) c =
      lz_command_build("sighting", "system", "Blue-1", "sign", "velvet", "photo", png, NULL);
  LzCommand *one[] = {c};
  ck_assert(lz_desk_check(lab.desk, one, 1, NULL));
  LzVerify found;
  ck_assert(lz_desk_verify(lab.desk, &found, NULL));
  ck_assert_int_eq(found.photos, 0);
}
END_TEST

START_TEST(a_correction_keeps_it)
{
  g_autoptr(LzEntry) first = see(png);
  g_autofree char *id = g_strdup_printf("%d", (int)lz_entry_id(first));
  int64_t again =
      lab_say(&lab, "sighting", NULL, "@corrects", id, "@reason", "two of them", "system", "Blue-1",
              "sign", "velvet", "heads", "2", "photo", lz_entry_text(first, "photo"), NULL);
  g_autoptr(LzEntry) entry = lz_desk_entry(lab.desk, again, NULL);
  ck_assert_str_eq(lz_entry_text(entry, "photo"), lz_entry_text(first, "photo"));
  g_autoptr(GdkPixbuf) p = lz_photo_of(lab.desk, entry, 100, NULL);
  ck_assert_ptr_nonnull(p);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {kept_and_shown,
                                without_one_there_is_none,
                                turned_upright,
                                what_is_no_picture_is_refused,
                                pixels_are_limited,
                                checked_only_writes_nothing,
                                the_place_is_not_kept,
                                a_large_one_is_brought_down,
                                what_changed_meanwhile_is_read_anew,
                                a_correction_keeps_it,
                                NULL};
  Suite *suite = suite_create("desk: photographs");
  TCase *t = tcase_create("photographs");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, setup, teardown);
  for (int i = 0; tests[i]; i++)
    tcase_add_test(t, tests[i]);
  suite_add_tcase(suite, t);
  return lab_run(suite);
}
