// SPDX-License-Identifier: GPL-3.0-or-later
// Files. Written under a name of their own beside the wanted one, then renamed over it.
#include "lzd_export.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <sys/stat.h>
#include <cairo-pdf.h>
#include <cairo-svg.h>

static lzd_status
no_output(lzd_fault *fault, const char *reason)
{
  return lzd_fail(fault, LZD_NO_OUTPUT, "file", 0, "path", reason);
}

static cairo_status_t
to_file(void *closure, const unsigned char *data, unsigned length)
{
  return fwrite(data, 1, length, closure) == length ? CAIRO_STATUS_SUCCESS
                                                    : CAIRO_STATUS_WRITE_ERROR;
}

// Opens a new file beside `path`; *part is its name, the caller's to free.
static FILE *
open_part(const char *path, char **part)
{
  size_t size = strlen(path) + sizeof ".XXXXXX";
  *part = malloc(size);
  if (!*part)
    return NULL;
  snprintf(*part, size, "%s.XXXXXX", path);
  int fd = mkstemp(*part);
  FILE *file = fd >= 0 ? fdopen(fd, "wb") : NULL;
  if (!file) {
    if (fd >= 0) {
      close(fd);
      unlink(*part);
    }
    free(*part);
    *part = NULL;
  }
  return file;
}

// Closes and renames, or removes what was begun. Frees part.
static lzd_status
finish_part(FILE *file, char *part, const char *path, lzd_status status, lzd_fault *fault)
{
  bool written = fflush(file) == 0 && fchmod(fileno(file), 0644) == 0 && fsync(fileno(file)) == 0;
  written = fclose(file) == 0 && written;
  if (status == LZD_OK && !written)
    status = no_output(fault, "could not be written to the end");
  if (status == LZD_OK && rename(part, path) != 0)
    status = no_output(fault, "could not be put in its place");
  if (status != LZD_OK)
    unlink(part);
  free(part);
  return status;
}

static void
set_meta(cairo_surface_t *pdf, const lzd_meta *meta)
{
  if (!meta)
    return;
  if (meta->title)
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_TITLE, meta->title);
  if (meta->author)
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_AUTHOR, meta->author);
  if (meta->subject)
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_SUBJECT, meta->subject);
  if (meta->created) {
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_CREATE_DATE, meta->created);
    cairo_pdf_surface_set_metadata(pdf, CAIRO_PDF_METADATA_MOD_DATE, meta->created);
  }
}

static lzd_status
surface_result(cairo_surface_t *surface, lzd_fault *fault)
{
  cairo_surface_finish(surface);
  cairo_status_t status = cairo_surface_status(surface);
  return status == CAIRO_STATUS_SUCCESS ? LZD_OK : no_output(fault, cairo_status_to_string(status));
}

static lzd_status
draw_sheet(lzd_sheet *sheet, cairo_surface_t *pdf, size_t n_pages, lzd_fault *fault)
{
  cairo_t *cr = cairo_create(pdf);
  lzd_status status = LZD_OK;
  for (size_t page = 0; page < n_pages && status == LZD_OK; page++) {
    status = lzd_sheet_draw(sheet, cr, page, fault);
    cairo_show_page(cr);
  }
  cairo_destroy(cr);
  return status;
}

lzd_status
lzd_sheet_write_pdf(lzd_sheet *sheet, const char *path, const lzd_meta *meta, lzd_fault *fault)
{
  size_t n_pages;
  double width, height;
  lzd_status status = lzd_sheet_pages(sheet, &n_pages, fault);
  if (status != LZD_OK)
    return status;
  char *part;
  FILE *file = open_part(path, &part);
  if (!file)
    return no_output(fault, "cannot be made in that folder");
  lzd_paper_size(lzd_sheet_paper(sheet), &width, &height);
  cairo_surface_t *pdf = cairo_pdf_surface_create_for_stream(to_file, file, width, height);
  set_meta(pdf, meta);
  status = draw_sheet(sheet, pdf, n_pages, fault);
  lzd_status surface = surface_result(pdf, status == LZD_OK ? fault : NULL);
  cairo_surface_destroy(pdf);
  return finish_part(file, part, path, status == LZD_OK ? surface : status, fault);
}

static cairo_surface_t *
make_surface(FILE *file, lzd_format format, double width, double height, double scale,
             const lzd_meta *meta)
{
  cairo_surface_t *surface;
  if (format == LZD_PDF) {
    surface = cairo_pdf_surface_create_for_stream(to_file, file, width, height);
    set_meta(surface, meta);
  } else if (format == LZD_SVG) {
    surface = cairo_svg_surface_create_for_stream(to_file, file, width, height);
  } else {
    surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(width * scale + 0.5),
                                         (int)(height * scale + 0.5));
  }
  return surface;
}

lzd_status
lzd_export(const char *path, lzd_format format, double width, double height, double scale,
           const lzd_look *look, lzd_block_draw draw, const void *data, const lzd_meta *meta,
           lzd_fault *fault)
{
  if (!(width > 0) || !(height > 0) || !(scale > 0) || width * scale > 30000 ||
      height * scale > 30000)
    return lzd_fail(fault, LZD_BAD_INPUT, "file", 0, "size", "not above 0, or above 30000 pixels");
  char *part;
  FILE *file = open_part(path, &part);
  if (!file)
    return no_output(fault, "cannot be made in that folder");
  cairo_surface_t *surface = make_surface(file, format, width, height, scale, meta);
  cairo_t *cr = cairo_create(surface);
  if (format == LZD_PNG)
    cairo_scale(cr, scale, scale);
  lzd_ink(cr, look->palette, LZD_BACKGROUND, 1);
  cairo_paint(cr);
  draw(cr, look, width, height, data);
  cairo_status_t drawn = cairo_status(cr);
  cairo_destroy(cr);
  if (drawn == CAIRO_STATUS_SUCCESS && format == LZD_PNG)
    drawn = cairo_surface_write_to_png_stream(surface, to_file, file);
  lzd_status status = drawn == CAIRO_STATUS_SUCCESS
                          ? surface_result(surface, fault)
                          : no_output(fault, cairo_status_to_string(drawn));
  cairo_surface_destroy(surface);
  return finish_part(file, part, path, status, fault);
}
