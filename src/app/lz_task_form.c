// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_task_form.h"

#include <glib/gi18n.h>
#include <lz_adviser.h>
#include <lz_desk.h>
#include <lz_fields.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>
#include <string.h>

#include "lz_settings.h"

char *
lz_field_word(const char *kind, const char *field, guint i)
{
  const LzKind *spec = lz_kind_find(kind);
  const LzField *found = spec ? lz_kind_field(spec, field) : NULL;
  if (!found || !found->words)
    return NULL;
  g_auto(GStrv) words = g_strsplit(found->words, "|", -1);
  return i < g_strv_length(words) ? g_strdup(words[i]) : NULL;
}

char *
lz_word_shown(const char *word)
{
  g_autofree char *spaced = g_strdelimit(g_strdup(word), "_", ' ');
  return g_strdup(*spaced ? g_dgettext(LZ_GETTEXT_DOMAIN, spaced) : "");
}

char *
lz_capital(const char *text)
{
  gunichar first = g_utf8_get_char(text);
  GString *out = g_string_new(NULL);
  if (*text) {
    const char *rest = g_utf8_next_char(text);
    gboolean own = *rest && g_unichar_isupper(g_utf8_get_char(rest)); // pH keeps its letters
    g_string_append_unichar(out, own ? first : g_unichar_toupper(first));
    g_string_append(out, rest);
  }
  return g_string_free(out, FALSE);
}

char *
lz_protocol_shown(const char *name)
{
  const char *slash = strrchr(name, '/');
  if (!slash || !g_ascii_isdigit(slash[1]))
    return g_strdup(name);
  g_autofree char *alone = g_strndup(name, (gsize)(slash - name));
  return g_strdup_printf(_("%s, version %s"), alone, slash + 1);
}

// What each kind of task asks for. Amounts that the plan gives are offered, never filled in: a
// number that nobody typed would be recorded unread.
static const struct {
  const char *kind, *field, *label;
  gboolean optional;
} forms[LZQ_N_TASK_KINDS] = {
    [LZQ_TASK_TEST] = {"reading", "value", N_("Read"), FALSE},
    [LZQ_TASK_DOSE] = {"dose", "amount_ml", N_("Given"), FALSE},
    [LZQ_TASK_CHANGE] = {"change", "litres", N_("Changed"), FALSE},
    [LZQ_TASK_SALT] = {"dose", "salt_kg", N_("Given"), FALSE},
    [LZQ_TASK_TOPUP] = {"topup", "litres", N_("Topped up"), FALSE},
    [LZQ_TASK_MOVE] = {"move", "tank", N_("Into tank"), FALSE},
    [LZQ_TASK_BATH] = {"bath", "amount_ml", N_("Given"), FALSE},
    [LZQ_TASK_FEED] = {"feed", "eaten_share", N_("Eaten"), FALSE},
    [LZQ_TASK_INSPECT] = {"feed", "eaten_share", N_("Eaten"), FALSE},
    [LZQ_TASK_SCRAPE] = {"scrape", "finding", N_("Found"), FALSE},
    [LZQ_TASK_GEAR] = {"gear", NULL, N_("Done"), TRUE},
    [LZQ_TASK_ACCEPT] = {"accept", "minutes", N_("Accepted"), FALSE},
    [LZQ_TASK_SIGN] = {"sign", NULL, N_("Signed"), TRUE},
    [LZQ_TASK_RELEASE] = {"release", NULL, N_("Released"), TRUE},
    [LZQ_TASK_CALIBRATE] = {"check", "ok", N_("Passed"), FALSE},
    [LZQ_TASK_DISINFECT] = {"state", NULL, N_("Begun"), TRUE},
    [LZQ_TASK_FILL] = {"state", NULL, N_("Filled"), TRUE},
};

static const char *
unit_of(const lzq_task *task, const char *typed_in)
{
  switch (task->kind) {
  case LZQ_TASK_TEST:
    if (typed_in)
      return strcmp(typed_in, "F") == 0 ? "°F" : typed_in;
    return task->analyte == LZQ_SALINITY ? _("ppt") : lz_words_analyte_unit(task->analyte);
  case LZQ_TASK_DOSE: return lz_words_unit(task->unit == LZQ_UNIT_G ? LZQ_UNIT_G : LZQ_UNIT_ML);
  case LZQ_TASK_BATH:
    return lz_words_unit(task->analyte == LZQ_SALINITY ? LZQ_UNIT_MIN : LZQ_UNIT_ML);
  case LZQ_TASK_CHANGE:
  case LZQ_TASK_TOPUP: return lz_words_unit(LZQ_UNIT_L);
  case LZQ_TASK_SALT: return lz_words_unit(LZQ_UNIT_KG);
  case LZQ_TASK_ACCEPT: return lz_words_unit(LZQ_UNIT_MIN);
  case LZQ_TASK_FEED:
  case LZQ_TASK_INSPECT: return "%";
  default: return "";
  }
}

// Of fresh water the minutes are its amount; what no bottle holds is weighed out.
static void
bath_form(LzDesk *desk, const lzq_task *task, LzTaskForm *form)
{
  LzQuestion ask;
  if (task->analyte == LZQ_SALINITY) {
    form->field = "minutes";
    g_free(form->label);
    form->label = g_strdup(_("In it"));
  } else if (lz_question_of_bath(desk, task, &ask) && ask.bottle == LZQ_NONE &&
             ask.bath == LZ_BATH_PRAZIQUANTEL) {
    g_free(form->unit);
    form->unit = g_strdup(lz_words_unit(LZQ_UNIT_G));
  }
}

LzTaskForm *
lz_task_form_new(LzDesk *desk, const LzTaskInfo *info)
{
  LzTaskForm *form = g_new0(LzTaskForm, 1);
  lzq_task_kind kind = info->task->kind;
  form->kind = forms[kind].kind;
  form->field = forms[kind].field;
  form->label = g_strdup(forms[kind].label ? _(forms[kind].label) : "");
  form->typed_in = kind == LZQ_TASK_TEST ? lz_settings_typed_unit(info->task->analyte) : NULL;
  form->unit = g_strdup(unit_of(info->task, form->typed_in));
  form->optional = forms[kind].optional;
  if (kind == LZQ_TASK_BATH)
    bath_form(desk, info->task, form);
  if (form->kind && form->field) {
    const LzKind *spec = lz_kind_find(form->kind);
    const LzField *field = spec ? lz_kind_field(spec, form->field) : NULL;
    if (field && field->type == LZ_FIELD_WORD)
      form->words = field->words;
    else if (field && field->type == LZ_FIELD_BOOL)
      form->words = "yes|no";
  }
  return form;
}

void
lz_task_form_free(LzTaskForm *form)
{
  if (!form)
    return;
  g_free(form->label);
  g_free(form->unit);
  g_free(form);
}

static void
set_name(LzDesk *desk, LzCommand *command, const char *field, const char *kind, uint32_t index)
{
  if (index != LZQ_NONE)
    lz_command_set(command, field, lz_desk_name(desk, kind, index));
}

static void
set_word(LzCommand *command, const char *kind, const char *field, guint i)
{
  g_autofree char *word = lz_field_word(kind, field, i);
  lz_command_set(command, field, word);
}

static LzCommand *
system_command(LzDesk *desk, const lzq_task *task, const LzTaskForm *form)
{
  LzCommand *command = lz_command_new(form->kind);
  set_name(desk, command, "system", "system", task->system);
  return command;
}

static LzCommand *
reading(LzDesk *desk, const lzq_task *task, const LzTaskForm *form, const char *typed,
        const char *instrument)
{
  LzCommand *command = system_command(desk, task, form);
  set_word(command, "reading", "analyte", task->analyte);
  lz_command_set(command, "value", typed);
  lz_command_set(command, "unit", form->typed_in);
  lz_command_set(command, "instrument", instrument);
  return command;
}

// Weighed out: the record counts in mg.
static void
set_grams(LzCommand *command, const char *typed)
{
  double grams;
  if (lz_parse_number(typed, &grams, NULL, NULL))
    lz_command_set_number(command, "amount_mg", grams * 1000);
  else
    lz_command_set(command, "amount_mg", typed);
}

static LzCommand *
bath(LzDesk *desk, const lzq_task *task, const LzTaskForm *form, const char *typed)
{
  LzCommand *command = lz_command_new("bath");
  LzQuestion ask;
  set_name(desk, command, "lot", "lot", task->lot);
  if (lz_question_of_bath(desk, task, &ask))
    lz_command_set(command, "bath", lz_bath_name(ask.bath));
  else
    lz_command_set(command, "bath", task->analyte == LZQ_CHLOROQUINE ? "chloroquine" : "other");
  if (strcmp(form->unit, lz_words_unit(LZQ_UNIT_G)) == 0)
    set_grams(command, typed);
  else
    lz_command_set(command, form->field, typed);
  return command;
}

static LzCommand *
dose(LzDesk *desk, const lzq_task *task, const LzTaskForm *form, const char *typed)
{
  LzCommand *command = system_command(desk, task, form);
  if (task->unit == LZQ_UNIT_G) {
    set_grams(command, typed);
    set_word(command, "dose", "analyte", task->analyte);
    lz_command_set(command, "typed", typed);
    return command;
  }
  lz_command_set(command, form->field, typed);
  if (task->kind == LZQ_TASK_SALT) {
    set_word(command, "dose", "analyte", LZQ_SALINITY);
    return command;
  }
  set_name(desk, command, "bottle", "bottle", task->bottle);
  lz_command_set_number(command, "computed_ml", task->amount);
  if (task->with_change_l > 0)
    lz_command_set(command, "in_new_water", "yes");
  return command;
}

static LzCommand *
water(LzDesk *desk, const lzq_task *task, const LzTaskForm *form, const char *typed)
{
  LzCommand *command = system_command(desk, task, form);
  lz_command_set(command, "litres", typed);
  if (!isnan(task->new_salinity))
    lz_command_set_number(command, "new_salinity", task->new_salinity);
  return command;
}

static LzCommand *
move(LzDesk *desk, const lzq_task *task, const char *typed)
{
  LzCommand *command = lz_command_new("move");
  set_name(desk, command, "lot", "lot", task->lot);
  g_autofree char *tank =
      task->to_system != LZQ_NONE && !strchr(typed, '/')
          ? g_strdup_printf("%s/%s", lz_desk_name(desk, "system", task->to_system), typed)
          : g_strdup(typed);
  lz_command_set(command, "tank", tank);
  return command;
}

static gboolean
names_lot(const LzTaskInfo *info, uint32_t lot)
{
  for (guint i = 0; i < info->n_lots; i++)
    if (info->lots[i] == lot)
      return TRUE;
  return FALSE;
}

// One visit may serve several lots, or a whole water be fed at once: one entry for each lot.
static void
feed(LzDesk *desk, const LzTaskInfo *info, const char *typed, GPtrArray *out)
{
  const lzq_task *task = info->task;
  GListModel *lots = lz_desk_lots(desk);
  double percent;
  gboolean is_number = lz_parse_number(typed, &percent, NULL, NULL);
  for (guint i = 0; i < g_list_model_get_n_items(lots); i++) {
    g_autoptr(LzLotRow) row = g_list_model_get_item(lots, i);
    const LzLotInfo *lot = lz_lot_row_info(row);
    gboolean asked = info->n_lots            ? names_lot(info, lot->index)
                     : task->lot != LZQ_NONE ? lot->index == task->lot
                                             : lot->living && lot->system == task->system;
    if (!asked)
      continue;
    LzCommand *command = lz_command_build("feed", "lot", lot->code, NULL);
    if (is_number)
      lz_command_set_number(command, "eaten_share", percent / 100);
    else
      lz_command_set(command, "eaten_share", typed);
    g_ptr_array_add(out, command);
  }
}

static LzCommand *
lot_command(LzDesk *desk, const lzq_task *task, const LzTaskForm *form, const char *typed)
{
  LzCommand *command = lz_command_new(form->kind);
  set_name(desk, command, "lot", "lot", task->lot);
  if (form->field)
    lz_command_set(command, form->field, typed);
  if (task->kind == LZQ_TASK_SIGN || task->kind == LZQ_TASK_ACCEPT) {
    const lzq_plan *plan = lz_desk_plan(desk);
    if (plan && task->lot < plan->credit->n_lots)
      lz_command_set_number(command, "phase", plan->credit->lots[task->lot].phase + 1);
  }
  if (task->kind == LZQ_TASK_SIGN && task->because.n[0] == 1)
    lz_command_set(command, "vet", "yes");
  return command;
}

static LzCommand *
check(LzDesk *desk, const lzq_task *task, const char *typed)
{
  LzCommand *command = lz_command_build("check", "ok", typed, NULL);
  set_name(desk, command, "instrument", "instrument", task->instrument);
  return command;
}

static LzCommand *
other(LzDesk *desk, const lzq_task *task, const LzTaskForm *form)
{
  LzCommand *command = system_command(desk, task, form);
  if (task->kind == LZQ_TASK_GEAR) {
    set_word(command, "gear", "gear", task->gear);
    lz_command_set(command, "on", task->because.n[1] == 1 ? "yes" : "no");
  } else {
    lz_command_set(command, "state", task->kind == LZQ_TASK_FILL ? "cycling" : "disinfecting");
  }
  return command;
}

GPtrArray *
lz_task_commands(LzDesk *desk, const LzTaskInfo *info, const LzTaskForm *form, const char *typed,
                 const char *instrument)
{
  const lzq_task *task = info->task;
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  switch (task->kind) {
  case LZQ_TASK_TEST: g_ptr_array_add(out, reading(desk, task, form, typed, instrument)); break;
  case LZQ_TASK_DOSE:
  case LZQ_TASK_SALT: g_ptr_array_add(out, dose(desk, task, form, typed)); break;
  case LZQ_TASK_BATH: g_ptr_array_add(out, bath(desk, task, form, typed)); break;
  case LZQ_TASK_CHANGE:
  case LZQ_TASK_TOPUP: g_ptr_array_add(out, water(desk, task, form, typed)); break;
  case LZQ_TASK_MOVE: g_ptr_array_add(out, move(desk, task, typed)); break;
  case LZQ_TASK_FEED:
  case LZQ_TASK_INSPECT: feed(desk, info, typed, out); break;
  case LZQ_TASK_CALIBRATE: g_ptr_array_add(out, check(desk, task, typed)); break;
  case LZQ_TASK_SCRAPE:
  case LZQ_TASK_ACCEPT:
  case LZQ_TASK_SIGN:
  case LZQ_TASK_RELEASE: g_ptr_array_add(out, lot_command(desk, task, form, typed)); break;
  default:
    if (form->kind)
      g_ptr_array_add(out, other(desk, task, form));
  }
  return out;
}

static const char *
task_code(lzq_task_kind kind)
{
  static const char *const codes[LZQ_N_TASK_KINDS] = {
      "test",   "dose", "change",    "salt",      "topup", "move",   "bath", "feed",    "inspect",
      "scrape", "gear", "calibrate", "disinfect", "fill",  "accept", "sign", "release", "decide"};
  return codes[kind];
}

static LzCommand *
skip(LzDesk *desk, const lzq_task *task, uint32_t lot, const char *reason)
{
  LzCommand *command = lz_command_build("skip", "task", task_code(task->kind), NULL);
  set_name(desk, command, "system", "system", task->system);
  set_name(desk, command, "lot", "lot", lot);
  if (task->kind == LZQ_TASK_TEST || task->kind == LZQ_TASK_DOSE)
    set_word(command, "skip", "analyte", task->analyte);
  lz_command_set_reason(command, reason);
  return command;
}

GPtrArray *
lz_task_skips(LzDesk *desk, const LzTaskInfo *info, const char *reason)
{
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  for (guint i = 0; i < info->n_lots; i++)
    g_ptr_array_add(out, skip(desk, info->task, info->lots[i], reason));
  if (!info->n_lots)
    g_ptr_array_add(out, skip(desk, info->task, info->task->lot, reason));
  return out;
}
