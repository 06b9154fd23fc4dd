// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE dose WHAT: what exactly to add, change or weigh, with the working, the cautions
// and the source. Writes nothing.
#include "lzc.h"
#include "lzc_machine.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include <lz_adviser.h>
#include <lz_format.h>

typedef struct {
  char *system, *lots, *bottle, *analyte, *bath, *as, *format, *at, *syringe, *balance;
  char *volume, *level, *target, *litres, *new_level, *step, *step_hours, *strength;
  char *minutes, *temperature, *mg_per_kg, *ration, *active, *copper;
  gboolean drip, after, by_change, air;
} Options;

static void
free_options(Options *o)
{
  char **const texts[] = {&o->system,    &o->lots,       &o->bottle,   &o->analyte, &o->bath,
                          &o->as,        &o->format,     &o->at,       &o->syringe, &o->balance,
                          &o->volume,    &o->level,      &o->target,   &o->litres,  &o->new_level,
                          &o->step,      &o->step_hours, &o->strength, &o->minutes, &o->temperature,
                          &o->mg_per_kg, &o->ration,     &o->active,   &o->copper};
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
    g_free(*texts[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Options, free_options)

static gboolean
numbers(LzDesk *desk, const Options *o, LzQuestion *ask)
{
  const struct {
    const char *field, *text;
    double *out;
  } all[] = {{"volume", o->volume, &ask->volume_l},
             {"level", o->level, &ask->level},
             {"target", o->target, &ask->target},
             {"litres", o->litres, &ask->litres},
             {"new_level", o->new_level, &ask->new_level},
             {"step", o->step, &ask->step},
             {"step_hours", o->step_hours, &ask->step_hours},
             {"strength", o->strength, &ask->strength},
             {"minutes", o->minutes, &ask->minutes},
             {"temperature", o->temperature, &ask->temperature},
             {"mg_per_kg", o->mg_per_kg, &ask->mg_per_kg},
             {"ration", o->ration, &ask->ration},
             {"active_share", o->active, &ask->active_share},
             {"copper_target", o->copper, &ask->copper_target}};
  static const struct {
    const char *field, *option;
  } shorter[] = {{"active_share", "active"}, {"copper_target", "copper"}};
  for (gsize i = 0; i < G_N_ELEMENTS(all); i++) {
    g_autoptr(GError) error = NULL;
    const char *option = all[i].field;
    for (gsize k = 0; k < G_N_ELEMENTS(shorter); k++)
      if (g_str_equal(option, shorter[k].field))
        option = shorter[k].option;
    g_autofree char *name = g_strconcat("--", option, NULL);
    g_strdelimit(name, "_", '-');
    if (all[i].text &&
        !lz_question_number(desk, ask, all[i].field, name, 1, all[i].text, all[i].out, &error)) {
      lzc_wrong("%s", error->message);
      return FALSE;
    }
  }
  return TRUE;
}

// "10/0.2": the largest amount in one go, and the smallest step.
static gboolean
tool(const char *option, const char *text, lzq_tool *out)
{
  g_auto(GStrv) parts = text ? g_strsplit(text, "/", 2) : NULL;
  if (!text)
    return TRUE;
  if (parts[0] && parts[1] && lz_parse_number(parts[0], &out->full, NULL, NULL) &&
      lz_parse_number(parts[1], &out->step, NULL, NULL) && out->step > 0)
    return TRUE;
  lzc_wrong(_("--%s: “%s” is not accepted; accepted is LARGEST/STEP such as 10/0.2, or 0/0.1"),
            option, text);
  return FALSE;
}

static gboolean
index_of(LzDesk *desk, const char *kind, const char *name, uint32_t *out)
{
  if (!name)
    return TRUE;
  *out = lz_desk_index(desk, kind, lz_desk_find(desk, kind, name));
  if (*out != LZQ_NONE)
    return TRUE;
  lzc_wrong(_("There is no %s “%s”."), kind, name);
  return FALSE;
}

// "0412,0413"
static gboolean
lots(LzDesk *desk, const char *names, GArray *out, LzQuestion *ask)
{
  g_auto(GStrv) each = g_strsplit(names ? names : "", ",", -1);
  for (char **name = each; *name; name++) {
    uint32_t lot = LZQ_NONE;
    if (!index_of(desk, "lot", g_strstrip(*name), &lot))
      return FALSE;
    g_array_append_val(out, lot);
  }
  ask->lots = names ? out : NULL;
  return TRUE;
}

static gboolean
words(const Options *o, LzQuestion *ask)
{
  guint bath = 0, analyte = 0;
  while (o->bath && bath < LZ_N_BATHS && strcmp(o->bath, lz_bath_name((LzBath)bath)) != 0)
    bath++;
  while (o->analyte && analyte < LZQ_N_ANALYTES &&
         strcmp(o->analyte, lzc_word_analyte((lzq_analyte)analyte)) != 0)
    analyte++;
  if (bath == LZ_N_BATHS || (!o->bath && ask->kind == LZ_QUESTION_BATH)) {
    lzc_wrong(_("--bath: accepted are freshwater, peroxide, formalin and praziquantel"));
    return FALSE;
  }
  if (analyte == LZQ_N_ANALYTES) {
    lzc_wrong(_("--analyte: “%s” is not one"), o->analyte);
    return FALSE;
  }
  if (o->as && strcmp(o->as, "metal") != 0 && strcmp(o->as, "salt") != 0) {
    lzc_wrong(_("--as: “%s” is not accepted; accepted are metal and salt"), o->as);
    return FALSE;
  }
  ask->bath = (LzBath)bath;
  ask->as = g_strcmp0(o->as, "salt") == 0 ? LZQ_AS_COPPER_SULFATE_5H2O : LZQ_AS_ITSELF;
  ask->analyte = (lzq_analyte)analyte;
  if (ask->kind == LZ_QUESTION_FRESHEN || ask->kind == LZ_QUESTION_SALT)
    ask->analyte = LZQ_SALINITY;
  return TRUE;
}

static void
put_csv(const LzAnswer *answer)
{
  static const char *const columns[] = {"part", "what", "how", "value", "amount", "unit"};
  lzc_csv(columns, G_N_ELEMENTS(columns));
  g_autofree char *amount = lzc_number(answer->amount);
  const char *sum[] = {"answer", "", "", "", amount, lzc_word_unit(answer->unit)};
  lzc_csv(sum, G_N_ELEMENTS(sum));
  for (guint i = 0; i < answer->lines->len; i++) {
    const LzWorkingLine *line = answer->lines->pdata[i];
    const char *cells[] = {"working", line->what, line->how, line->value, "", ""};
    lzc_csv(cells, G_N_ELEMENTS(cells));
  }
  for (guint i = 0; i < answer->cautions->len; i++) {
    const char *cells[] = {"caution", answer->cautions->pdata[i], "", "", "", ""};
    lzc_csv(cells, G_N_ELEMENTS(cells));
  }
  const char *cells[] = {"source", answer->source, "", "", "", ""};
  if (*answer->source)
    lzc_csv(cells, G_N_ELEMENTS(cells));
}

static void
put_text(const LzAnswer *answer)
{
  for (guint i = 0; i < answer->lines->len; i++) {
    const LzWorkingLine *line = answer->lines->pdata[i];
    printf("%s %s%s%s%s%s\n", line->result ? "=" : " ", line->what,
           *line->value || *line->how ? ": " : "", line->how,
           *line->how && *line->value ? " = " : "", line->value);
  }
  for (guint i = 0; i < answer->cautions->len; i++)
    printf("! %s\n", (const char *)answer->cautions->pdata[i]);
  if (*answer->source)
    printf(_("Source: %s\n"), answer->source);
}

static int
answer_one(LzDesk *desk, const Options *o, LzQuestion *ask)
{
  gboolean csv;
  int status = LZC_USAGE;
  g_autoptr(GError) error = NULL;
  g_autoptr(GArray) chosen = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  if (!numbers(desk, o, ask) || !words(o, ask) || !tool("syringe", o->syringe, &ask->syringe) ||
      !tool("balance", o->balance, &ask->balance) ||
      !index_of(desk, "system", o->system, &ask->system) ||
      !index_of(desk, "bottle", o->bottle, &ask->bottle) || !lots(desk, o->lots, chosen, ask) ||
      !lzc_format_is_csv(o->format, &csv, &status))
    return status;
  ask->drip = o->drip;
  ask->after = o->after;
  ask->by_change = o->by_change;
  ask->air = o->air;
  ask->as_formalin = o->strength && strstr(o->strength, "ormal");
  g_autoptr(LzAnswer) answer = lz_desk_answer(desk, ask, &error);
  if (!answer)
    return lzc_fail(g_steal_pointer(&error));
  if (csv)
    put_csv(answer);
  else
    put_text(answer);
  return LZC_DONE;
}

#define NUMBER(option, field, help)                                                                \
  {                                                                                                \
    option, 0, 0, G_OPTION_ARG_STRING, &o.field, help, N_("NUMBER")                                \
  }
#define WORD(option, field, help, what)                                                            \
  {                                                                                                \
    option, 0, 0, G_OPTION_ARG_STRING, &o.field, help, what                                        \
  }
#define FLAG(option, field, help)                                                                  \
  {                                                                                                \
    option, 0, 0, G_OPTION_ARG_NONE, &o.field, help, NULL                                          \
  }

int
lzc_dose(const char *path, int argc, char **argv)
{
  g_auto(Options) o = {0};
  const GOptionEntry entries[] = {
      WORD("system", system, N_("the water that it is about"), N_("NAME")),
      WORD("lots", lots, N_("feed, bath: these lots of the water alone, separated by commas"),
           N_("NAMES")),
      WORD("bottle", bottle, N_("the bottle to dose from; else the newest that fits"), N_("NAME")),
      WORD("analyte", analyte, N_("copper unless said"), N_("WORD")),
      WORD("bath", bath, N_("freshwater, peroxide, formalin or praziquantel"), N_("WORD")),
      NUMBER("volume", volume, N_("litres, where no system is named")),
      NUMBER("level", level, N_("level now, mg/L or salinity; else as the record has it")),
      NUMBER("target", target, N_("level wanted; else what the fish there need")),
      NUMBER("litres", litres, N_("litres of a change")),
      NUMBER("new-level", new_level, N_("level in the new water")),
      NUMBER("step", step, N_("largest single move; of lower, largest share a day")),
      NUMBER("step-hours", step_hours, N_("hours between two steps")),
      NUMBER("strength", strength, N_("mg/mL of the stock, or g/L available chlorine of bleach")),
      WORD("as", as, N_("what the strength counts: metal or salt"), N_("WORD")),
      NUMBER("minutes", minutes, N_("minutes of a bath, or of contact")),
      NUMBER("temperature", temperature, N_("degrees C of a bath")),
      NUMBER("mg-per-kg", mg_per_kg, N_("medicine in feed, mg per kg of fish and day")),
      NUMBER("ration", ration, N_("feed a day as a share of body mass, 0.01 unless said")),
      NUMBER("active", active, N_("active share of the product, 0 to 1")),
      NUMBER("copper", copper, N_("copper that each step of salinity goes back to")),
      WORD("syringe", syringe, N_("largest/step in mL, 10/0.2 unless said"), N_("SIZE")),
      WORD("balance", balance, N_("largest/step in g, 0/0.1 unless said"), N_("SIZE")),
      FLAG("drip", drip, N_("the change is continuous")),
      FLAG("after", after, N_("dosed after the change, not into the new water")),
      FLAG("by-change", by_change, N_("salt: by changes with saltier water")),
      FLAG("air", air, N_("bath: air is on")),
      WORD("at", at, N_("as it stands at this local time"), N_("TIME")),
      WORD("format", format, N_("text or csv"), N_("FORMAT")),
      {NULL}};
  int status;
  LzQuestion ask;
  guint kind = 0;
  if (!lzc_options("dose", "WHAT",
                   _("What to add, with the working. WHAT: raise, replace, lower, freshen, salt, "
                     "bleach, neutralise, bath or feed."),
                   entries, &argc, &argv, &status))
    return status;
  while (argc == 2 && kind < LZ_N_QUESTIONS &&
         strcmp(argv[1], lz_question_name((LzQuestionKind)kind)) != 0)
    kind++;
  if (argc != 2 || kind == LZ_N_QUESTIONS)
    return lzc_wrong(_("dose: say one of raise, replace, lower, freshen, salt, bleach, neutralise, "
                       "bath, feed"));
  lz_question_init(&ask, (LzQuestionKind)kind);
  g_autoptr(LzDesk) desk = lzc_open_reading(path, o.at, &status);
  return desk ? answer_one(desk, &o, &ask) : status;
}
