// SPDX-License-Identifier: GPL-3.0-or-later
// Which block goes on which page, and where.
#include <stdlib.h>

#include "lzd_sheet.h"

typedef struct {
  lzd_sheet *sheet;
  size_t page;
  double y, bottom;
} flow;

static void
begin_page(flow *f)
{
  f->y = f->sheet->margin + lzd_sheet_head_height(f->sheet, f->page);
}

static bool
place(flow *f, size_t block)
{
  lzd_sheet *s = f->sheet;
  lzd_placed *slot =
      lzd_sheet_grow((void **)&s->placed, &s->n_placed, &s->room_placed, sizeof *slot);
  if (!slot)
    return false;
  *slot = (lzd_placed){block, f->page, f->y};
  f->y += lzd_block_run(s, &s->blocks[block], NULL, f->y);
  return true;
}

static double
height_of(const flow *f, size_t block)
{
  return lzd_block_run(f->sheet, &f->sheet->blocks[block], NULL, 0);
}

static double
height_after(const flow *f, size_t block)
{
  double height = 0;
  for (size_t b = block + 1; b < f->sheet->n_blocks; b++)
    height += height_of(f, b);
  return height;
}

// What must stand on one page with block i: a heading, or a table's head, keeps its next block, and
// the last block before the foot keeps the foot: signatures never stand on a page of their own.
static double
kept_together(const flow *f, size_t i)
{
  double height = height_of(f, i);
  while (i + 1 < f->sheet->n_blocks &&
         (f->sheet->blocks[i].kind == LZD_B_HEADING ||
          f->sheet->blocks[i].kind == LZD_B_TABLE_HEAD || f->sheet->blocks[i].keeps))
    height += height_of(f, ++i);
  while (i + 1 < f->sheet->n_blocks && f->sheet->blocks[i + 1].kind == LZD_B_SPACE)
    i++;
  if (i + 1 < f->sheet->n_blocks && f->sheet->blocks[i + 1].kind == LZD_B_TO_FOOT)
    height += height_after(f, i + 1);
  return height;
}

// The head of the table that block i is a row of; SIZE_MAX: none.
static size_t
head_of(const lzd_sheet *sheet, size_t i)
{
  if (sheet->blocks[i].kind != LZD_B_ROW)
    return SIZE_MAX;
  for (size_t b = i; b-- > 0;)
    if (sheet->blocks[b].kind == LZD_B_TABLE_HEAD &&
        sheet->blocks[b].table == sheet->blocks[i].table)
      return b;
  return SIZE_MAX;
}

// Everything after a TO_FOOT marker stands at the page's end.
static void
go_to_foot(flow *f, size_t i)
{
  double rest = height_after(f, i);
  if (f->y + rest > f->bottom &&
      f->y > f->sheet->margin + lzd_sheet_head_height(f->sheet, f->page)) {
    f->page++;
    begin_page(f);
  }
  if (f->bottom - rest > f->y)
    f->y = f->bottom - rest;
}

static bool
flow_block(flow *f, size_t i)
{
  const lzd_block *block = &f->sheet->blocks[i];
  double top = f->sheet->margin + lzd_sheet_head_height(f->sheet, f->page);
  if (block->kind == LZD_B_TO_FOOT) {
    go_to_foot(f, i);
    return true;
  }
  bool fits = f->y + kept_together(f, i) <= f->bottom + 0.01;
  bool breaks = block->kind == LZD_B_NEW_PAGE;
  if (block->kind == LZD_B_SPACE && !fits)
    return true; // air at a page's end falls away
  if (breaks || (!fits && f->y > top + 0.01)) {
    f->page++;
    begin_page(f);
    size_t head = head_of(f->sheet, i);
    if (head != SIZE_MAX && !place(f, head))
      return false;
  }
  return breaks || place(f, i);
}

lzd_status
lzd_sheet_pages(lzd_sheet *sheet, size_t *n_pages, lzd_fault *fault)
{
  *n_pages = 0;
  if (sheet->status != LZD_OK) {
    if (fault)
      *fault = sheet->fault;
    return sheet->status;
  }
  for (size_t i = 0; i < sheet->n_tables; i++)
    lzd_table_fit_columns(sheet, i);
  double foot = sheet->foot_left || sheet->foot_right ? 18 * lzd_look_text(&sheet->look) : 0;
  if (sheet->foot_below)
    foot += 12 * lzd_look_text(&sheet->look);
  flow f = {.sheet = sheet, .bottom = sheet->height - sheet->margin - foot};
  sheet->n_placed = 0;
  begin_page(&f);
  for (size_t i = 0; i < sheet->n_blocks; i++)
    if (!flow_block(&f, i))
      return lzd_fail(fault, LZD_NO_MEMORY, "page", i, "", "no memory");
  sheet->n_pages = f.page + 1;
  sheet->laid = true;
  *n_pages = sheet->n_pages;
  return LZD_OK;
}

lzd_status
lzd_sheet_draw(lzd_sheet *sheet, cairo_t *cr, size_t page, lzd_fault *fault)
{
  if (!sheet->laid || page >= sheet->n_pages)
    return lzd_fail(fault, LZD_BAD_INPUT, "page", page, "page", "not laid out, or no such page");
  cairo_save(cr);
  lzd_ink(cr, sheet->look.palette, LZD_BACKGROUND, 1);
  cairo_paint(cr);
  lzd_sheet_draw_head(sheet, cr, page);
  for (size_t i = 0; i < sheet->n_placed; i++)
    if (sheet->placed[i].page == page)
      lzd_block_run(sheet, &sheet->blocks[sheet->placed[i].block], cr, sheet->placed[i].y);
  lzd_sheet_draw_foot(sheet, cr, page);
  cairo_restore(cr);
  if (cairo_status(cr) != CAIRO_STATUS_SUCCESS)
    return lzd_fail(fault, LZD_NO_OUTPUT, "page", page, "",
                    cairo_status_to_string(cairo_status(cr)));
  return LZD_OK;
}
