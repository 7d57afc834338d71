/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calendar as iCalendar (RFC 5545), by libical: whole days, alarms the day before, one UID a
 * task, so that reading it again updates and does not double. */
#include <libical/ical.h>
#include <string.h>

#include "care/care.h"

static struct icaltimetype
date_of (BlDay day)
{
  struct icaltimetype t = icaltime_null_date ();

  bl_day_split (day, &t.year, &t.month, &t.day);
  return t;
}

/* The design's part of a UID: tasks of two designs in one calendar must not be taken for one another,
 * and those of one must be known again when it has another title. */
static char *
design_id (const BlModel *model)
{
  if (model->id != NULL && model->id[0] != '\0')
    return g_strdup (model->id);
  return bl_model_first_id (model->title, model->client, model->place);
}

static void
add_alarm (icalcomponent *event, const char *title)
{
  icalcomponent *alarm = icalcomponent_new_valarm ();
  struct icaltriggertype trigger
    = { .time = icaltime_null_time (), .duration = icaldurationtype_from_int (-86400) };

  icalcomponent_add_property (alarm, icalproperty_new_action (ICAL_ACTION_DISPLAY));
  icalcomponent_add_property (alarm, icalproperty_new_description (title));
  icalcomponent_add_property (alarm, icalproperty_new_trigger (trigger));
  icalcomponent_add_component (event, alarm);
}

static void
add_rule (icalcomponent *event, const char *text)
{
  icalcomponent_add_property (event,
                              icalproperty_new_rrule (icalrecurrencetype_from_string (text)));
}

typedef struct
{
  icalcomponent *calendar;
  const BlModel *model;
  struct icaltimetype stamp;
  const char *design;
} Writer;

/* One event from @from to the end of @to; @part tells the events of one task apart, 0 = only one.
 */
static icalcomponent *
add_event (const Writer *writer, const BlTask *task, BlDay from, BlDay to, guint part)
{
  icalcomponent *event = icalcomponent_new_vevent ();
  const BlBed *bed = task->bed_id != 0 ? bl_model_bed (writer->model, task->bed_id) : NULL;
  g_autofree char *number = part > 0 ? g_strdup_printf (".%u", part) : g_strdup ("");
  g_autofree char *uid = g_strdup_printf ("%s%s@%s.bedline", task->uid, number, writer->design);

  icalcomponent_add_property (event, icalproperty_new_uid (uid));
  icalcomponent_add_property (event, icalproperty_new_dtstamp (writer->stamp));
  icalcomponent_add_property (event, icalproperty_new_dtstart (date_of (from)));
  icalcomponent_add_property (event, icalproperty_new_dtend (date_of (to + 1)));
  icalcomponent_add_property (event, icalproperty_new_summary (task->title));
  if (task->what[0] != '\0')
    icalcomponent_add_property (event, icalproperty_new_description (task->what));
  if (bed != NULL && bed->name != NULL)
    icalcomponent_add_property (event, icalproperty_new_location (bed->name));
  icalcomponent_add_property (event, icalproperty_new_categories (task->kind));
  /* A window of work does not make its owner busy. */
  icalcomponent_add_property (event, icalproperty_new_transp (ICAL_TRANSP_TRANSPARENT));
  if (task->done)
    icalcomponent_add_property (event, icalproperty_new_comment ("done"));
  else
    add_alarm (event, task->title);
  icalcomponent_add_component (writer->calendar, event);
  return event;
}

static void
add_task (const Writer *writer, const BlTask *task)
{
  icalcomponent *event = NULL;
  guint part = 0;
  BlDay day;

  if (task->every_days > 0 && task->yearly)
    {
      /* A rule cannot say "every thirty days within each summer": each of its days recurs. */
      for (day = task->from, part = 1; day <= task->to; day += (BlDay) task->every_days, part++)
        add_rule (add_event (writer, task, day, day, part), "FREQ=YEARLY");
      return;
    }
  event = add_event (writer, task, task->from, task->every_days > 0 ? task->from : task->to, 0);
  if (task->yearly)
    add_rule (event, "FREQ=YEARLY");
  else if (task->every_days > 0 && task->to > task->from)
    {
      struct icaltimetype until = date_of (task->to);
      g_autofree char *rule
        = g_strdup_printf ("FREQ=DAILY;INTERVAL=%d;UNTIL=%04d%02d%02d", task->every_days,
                           until.year, until.month, until.day);

      add_rule (event, rule);
    }
}

char *
bl_care_to_ics (const BlCare *care, const BlModel *model, const char *stamp)
{
  g_autofree char *design = design_id (model);
  Writer writer = { icalcomponent_new_vcalendar (), model, icaltime_from_string (stamp), design };
  char *text = NULL, *copy = NULL;
  guint i = 0;

  icalcomponent_add_property (writer.calendar,
                              icalproperty_new_prodid ("-//Bedline//Care calendar//EN"));
  icalcomponent_add_property (writer.calendar, icalproperty_new_version ("2.0"));
  icalcomponent_add_property (writer.calendar, icalproperty_new_calscale ("GREGORIAN"));
  for (i = 0; i < care->tasks->len; i++)
    add_task (&writer, &g_array_index (care->tasks, BlTask, i));
  text = icalcomponent_as_ical_string_r (writer.calendar);
  copy = g_strdup (text);
  icalmemory_free_buffer (text);
  icalcomponent_free (writer.calendar);
  return copy;
}
