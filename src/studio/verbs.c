/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that can be done, by name: the one table behind keys, menus, shortcuts and search. */

#include "config.h"

#include "studio/verbs.h"

#include <glib/gi18n.h>
#include <string.h>

#define DESIGN N_("Design")
#define PATH N_("The path")
#define HANDS N_("Hands")
#define EDIT N_("Edit")
#define LOOK N_("Look")
#define PLANTS N_("Your plants")
#define ALTERNATIVES N_("Alternatives")
#define GIVE N_("Give")

static const BlVerb verbs[] = {
  { "win.new-photo",
    DESIGN,
    N_ ("New design from a photo"),
    N_ ("start picture"),
    { "<Control>n" } },
  { "win.new-drawing",
    DESIGN,
    N_ ("New design on a plan from elsewhere"),
    N_ ("start base drawing survey png svg scan"),
    { NULL } },
  { "win.choose-drawing",
    DESIGN,
    N_ ("Choose a base drawing"),
    N_ ("plan survey import png jpeg svg scan"),
    { NULL } },
  { "win.new-tape",
    DESIGN,
    N_ ("New design from tape measurements"),
    N_ ("start survey"),
    { NULL } },
  { "win.new-blank", DESIGN, N_ ("New design on a blank plan"), N_ ("start empty"), { NULL } },
  { "win.open", DESIGN, N_ ("Open a design"), N_ ("file"), { "<Control>o" } },
  { "win.bring-in-outlines",
    DESIGN,
    N_ ("Bring in outlines from a map"),
    N_ ("import geojson polygons survey"),
    { NULL } },
  { "win.save-copy",
    DESIGN,
    N_ ("Save a copy"),
    N_ ("file store duplicate"),
    { "<Control><Shift>s" } },
  { "win.start-page",
    DESIGN,
    N_ ("Back to the start page"),
    N_ ("close home recent"),
    { "<Control><Shift>w" } },
  { "win.price-book",
    DESIGN,
    N_ ("Price book"),
    N_ ("prices rates rules overhead markup margin tax deposit firm csv"),
    { NULL } },
  { "win.preferences",
    DESIGN,
    N_ ("Units, language and look"),
    N_ ("settings dark contrast metric feet"),
    { "<Control>comma" } },
  { "win.find-verb", DESIGN, N_ ("Find a command by name"), N_ ("search"), { "<Control>k" } },
  { "win.show-help-overlay",
    DESIGN,
    N_ ("Keyboard shortcuts"),
    N_ ("keys help"),
    { "<Control>question", "<Control>F1" } },
  { "win.tour", DESIGN, N_ ("A five-minute tour"), N_ ("learn demo example"), { NULL } },
  { "win.help", DESIGN, N_ ("Help"), N_ ("guide how"), { "F1" } },
  { "app.quit", DESIGN, N_ ("Quit"), N_ ("exit leave"), { "<Control>q" } },

  { "win.stage::photo", PATH, N_ ("Photo and job"), N_ ("title client"), { "<Alt>1" } },
  { "win.stage::known",
    PATH,
    N_ ("What is known"),
    N_ ("scale measure camera tape"),
    { "<Alt>2" } },
  { "win.stage::bed",
    PATH,
    N_ ("Bed lines and features"),
    N_ ("outline edging mulch"),
    { "<Alt>3" } },
  { "win.stage::site", PATH, N_ ("The site"), N_ ("zone soil sun frost"), { "<Alt>4" } },
  { "win.stage::plants", PATH, N_ ("Plants"), N_ ("shelf finder"), { "<Alt>5" } },
  { "win.stage::compare",
    PATH,
    N_ ("Compare side by side"),
    N_ ("alternatives table"),
    { "<Alt>6" } },
  { "win.stage::give", PATH, N_ ("Give"), N_ ("export proposal"), { "<Alt>7" } },

  { "win.hand::select", HANDS, N_ ("Select and move"), N_ ("pick pointer"), { "<Control>1" } },
  { "win.hand::reshape", HANDS, N_ ("Reshape a line"), N_ ("points edit bed"), { "<Control>2" } },
  { "win.hand::trace", HANDS, N_ ("Trace a bed line"), N_ ("outline draw"), { "<Control>b" } },
  { "win.hand::specimen", HANDS, N_ ("Plant a specimen"), N_ ("place single"), { "<Control>3" } },
  { "win.hand::row", HANDS, N_ ("Plant a row"), N_ ("line hedge"), { "<Control>4" } },
  { "win.hand::drift", HANDS, N_ ("Plant a drift"), N_ ("paint group patch"), { "<Control>5" } },
  { "win.hand::fill", HANDS, N_ ("Fill what is left"), N_ ("ground cover"), { "<Control>6" } },
  { "win.hand::scale",
    HANDS,
    N_ ("Point out a length on the base drawing"),
    N_ ("known scale plan"),
    { NULL } },
  { "win.known::rectangle",
    HANDS,
    N_ ("State a rectangle"),
    N_ ("known four corners size scale"),
    { "<Control>r" } },
  { "win.known::length",
    HANDS,
    N_ ("State a length"),
    N_ ("known scale distance"),
    { "<Control>l" } },
  { "win.known::height", HANDS, N_ ("State a height"), N_ ("known upright post"), { NULL } },
  { "win.known::right_angle",
    HANDS,
    N_ ("State a right angle"),
    N_ ("known square corner"),
    { NULL } },
  { "win.known::parallel", HANDS, N_ ("State two parallel lines"), N_ ("known"), { NULL } },
  { "win.known::equal_lengths", HANDS, N_ ("State two equal lengths"), N_ ("known"), { NULL } },
  { "win.known::horizon", HANDS, N_ ("State the horizon"), N_ ("known"), { NULL } },
  { "win.known::straight", HANDS, N_ ("State a straight line"), N_ ("known lens"), { NULL } },
  { "win.known::position", HANDS, N_ ("State a position"), N_ ("known coordinates"), { NULL } },
  { "win.known::eye", HANDS, N_ ("State the lens's height"), N_ ("known eye camera"), { NULL } },
  { "win.known::check", HANDS, N_ ("Check a length"), N_ ("measure predict"), { "<Control>m" } },
  { "win.hand::feature",
    HANDS,
    N_ ("Trace a feature"),
    N_ ("wall walk kerb salt snow post"),
    { NULL } },

  { "win.undo", EDIT, N_ ("Undo"), N_ ("back"), { "<Control>z" } },
  { "win.redo", EDIT, N_ ("Redo"), N_ ("again"), { "<Control><Shift>z", "<Control>y" } },
  { "win.delete", EDIT, N_ ("Delete what is selected"), N_ ("remove"), { NULL } },
  { "win.copy", EDIT, N_ ("Copy"), NULL, { NULL } },
  { "win.paste", EDIT, N_ ("Paste"), NULL, { NULL } },
  { "win.duplicate", EDIT, N_ ("Copy in place"), N_ ("duplicate again"), { "<Control>d" } },
  { "win.select-all", EDIT, N_ ("Select every planting"), N_ ("all"), { NULL } },
  { "win.select-none", EDIT, N_ ("Select nothing"), N_ ("deselect"), { "<Control><Shift>a" } },
  { "win.lock", EDIT, N_ ("Lock in place"), N_ ("fix"), { "<Control><Shift>l" } },
  { "win.unlock", EDIT, N_ ("Unlock"), NULL, { "<Control><Shift>u" } },
  { "win.group", EDIT, N_ ("Keep together"), N_ ("group"), { "<Control>g" } },
  { "win.ungroup", EDIT, N_ ("Let go of one another"), N_ ("ungroup"), { "<Control><Shift>g" } },
  { "win.align", EDIT, N_ ("Line up"), N_ ("align straight"), { NULL } },
  { "win.spread", EDIT, N_ ("Spread evenly"), N_ ("distribute space"), { NULL } },
  { "win.mirror", EDIT, N_ ("Mirror left to right"), N_ ("flip"), { NULL } },
  { "win.swap-plant",
    EDIT,
    N_ ("Swap for the plant in hand, everywhere in this alternative"),
    N_ ("replace substitute"),
    { "<Control>h" } },

  { "win.view::photo",
    LOOK,
    N_ ("On the photo"),
    N_ ("picture perspective"),
    { "<Control><Alt>1" } },
  { "win.view::plan", LOOK, N_ ("On the plan"), N_ ("map above"), { "<Control><Alt>2" } },
  { "win.switch-view", LOOK, N_ ("Switch photo and plan"), NULL, { "F2" } },
  { "win.before-after",
    LOOK,
    N_ ("Before and after, with a divider across the photo"),
    N_ ("compare as it is proposed split"),
    { "F7" } },
  { "win.fit", LOOK, N_ ("See the whole"), N_ ("zoom fit"), { "<Control>0" } },
  { "win.zoom-in", LOOK, N_ ("Nearer"), N_ ("zoom in"), { "<Control>plus", "<Control>equal" } },
  { "win.zoom-out", LOOK, N_ ("Farther"), N_ ("zoom out"), { "<Control>minus" } },
  { "win.zoom-full",
    LOOK,
    N_ ("Pixel for pixel, or 1:50 on the plan"),
    N_ ("zoom actual"),
    { NULL } },
  { "win.month-later", LOOK, N_ ("A month later"), N_ ("season time"), { "<Control><Alt>Right" } },
  { "win.month-earlier",
    LOOK,
    N_ ("A month earlier"),
    N_ ("season time"),
    { "<Control><Alt>Left" } },
  { "win.older", LOOK, N_ ("A year older"), N_ ("age grow"), { "<Control><Alt>Up" } },
  { "win.younger", LOOK, N_ ("A year younger"), N_ ("age"), { "<Control><Alt>Down" } },
  { "win.mature-spread",
    LOOK,
    N_ ("Rings at mature spread on the plan"),
    N_ ("circles"),
    { NULL } },
  { "win.loupe", LOOK, N_ ("Loupe at the pointer while measuring"), N_ ("magnify lens"), { NULL } },
  { "win.labels", LOOK, N_ ("Key letters on the plan"), N_ ("names"), { NULL } },
  { "win.grid", LOOK, N_ ("Grid on the plan"), N_ ("squares"), { NULL } },
  { "win.charts",
    LOOK,
    N_ ("Charts: flowers through the year, heights, colours"),
    N_ ("bloom calendar balance"),
    { NULL } },
  { "win.take-symbol",
    LOOK,
    N_ ("Your own plan symbol for the selected plant…"),
    N_ ("svg drawing icon"),
    { NULL } },
  { "win.forget-symbol",
    LOOK,
    N_ ("The usual plan symbol for the selected plant"),
    N_ ("svg reset"),
    { NULL } },
  { "win.snow", LOOK, N_ ("Snow in winter on the photo"), N_ ("season december"), { NULL } },
  { "win.monochrome", LOOK, N_ ("Plan without colours"), N_ ("black white"), { NULL } },
  { "win.side-sheet", LOOK, N_ ("Show or hide the stage's sheet"), N_ ("left panel"), { "F8" } },
  { "win.ledger", LOOK, N_ ("Show or hide the ledger"), N_ ("right panel list cost"), { "F9" } },
  { "win.pane::planting", LOOK, N_ ("Planting list"), N_ ("schedule plants"), { "<Control>F2" } },
  { "win.pane::quantities",
    LOOK,
    N_ ("Quantities"),
    N_ ("take-off mulch count"),
    { "<Control>F3" } },
  { "win.pane::cost", LOOK, N_ ("Cost"), N_ ("price estimate money"), { "<Control>F4" } },
  { "win.pane::care", LOOK, N_ ("Care"), N_ ("calendar tasks"), { "<Control>F5" } },
  { "win.pane::warnings", LOOK, N_ ("Warnings"), N_ ("fit cautions"), { "<Control>F6" } },
  { "win.pane::history", LOOK, N_ ("History"), N_ ("undo list"), { "<Control>F7" } },
  { "win.focus-canvas", LOOK, N_ ("Go to the drawing"), N_ ("focus canvas"), { "F6" } },
  { "win.find-plant", LOOK, N_ ("Find a plant"), N_ ("search shelf"), { "<Control>f" } },

  { "win.add-plant",
    PLANTS,
    N_ ("Add a plant of your own…"),
    N_ ("new record form copy"),
    { NULL } },
  { "win.change-plant",
    PLANTS,
    N_ ("Change this plant…"),
    N_ ("edit record facts picture"),
    { NULL } },
  { "win.hide-plant", PLANTS, N_ ("Hide this plant from the shelf"), N_ ("remove"), { NULL } },
  { "win.hidden-plants",
    PLANTS,
    N_ ("Hidden plants, to show again…"),
    N_ ("unhide bring back"),
    { NULL } },
  { "win.plant-back",
    PLANTS,
    N_ ("Take back what was done to your plants"),
    N_ ("undo restore"),
    { NULL } },
  { "win.take-plants", PLANTS, N_ ("Bring in plants…"), N_ ("import csv table"), { NULL } },
  { "win.write-plants", PLANTS, N_ ("Write my plants…"), N_ ("export csv table save"), { NULL } },
  { "win.take-nursery",
    PLANTS,
    N_ ("Bring in a nursery's prices and stock…"),
    N_ ("import csv list supplier availability"),
    { NULL } },

  { "win.add-alternative",
    ALTERNATIVES,
    N_ ("New alternative"),
    N_ ("add empty"),
    { "<Control>t" } },
  { "win.copy-alternative",
    ALTERNATIVES,
    N_ ("Copy this alternative"),
    N_ ("duplicate"),
    { "<Control><Shift>t" } },
  { "win.rename-alternative", ALTERNATIVES, N_ ("Rename this alternative"), NULL, { NULL } },
  { "win.delete-alternative",
    ALTERNATIVES,
    N_ ("Delete this alternative"),
    N_ ("remove"),
    { NULL } },
  { "win.next-alternative", ALTERNATIVES, N_ ("Next alternative"), NULL, { "<Control>Page_Down" } },
  { "win.previous-alternative",
    ALTERNATIVES,
    N_ ("Previous alternative"),
    NULL,
    { "<Control>Page_Up" } },

  { "win.print", GIVE, N_ ("Print what is shown"), N_ ("paper printer"), { "<Control>p" } },
  { "win.print-proposal", GIVE, N_ ("Print the proposal"), N_ ("paper printer"), { NULL } },
  { "win.print-crew", GIVE, N_ ("Print the set-out plan"), N_ ("paper printer"), { NULL } },
  { "win.print-care-sheet", GIVE, N_ ("Print the care sheet"), N_ ("paper printer"), { NULL } },
  { "win.give-proposal",
    GIVE,
    N_ ("Proposal for the client, PDF"),
    N_ ("export print"),
    { "<Control>e" } },
  { "win.give-picture",
    GIVE,
    N_ ("Picture of what is shown, PNG, SVG or PDF"),
    N_ ("export image"),
    { "<Control><Shift>e" } },
  { "win.give-before-after",
    GIVE,
    N_ ("Before and after side by side, PNG or JPEG"),
    N_ ("export image compare"),
    { NULL } },
  { "win.give-plan",
    GIVE,
    N_ ("Plan to scale with its key, PDF or SVG"),
    N_ ("export print drawing"),
    { NULL } },
  { "win.give-months",
    GIVE,
    N_ ("Pictures of the twelve months, PNG"),
    N_ ("export flip-book season series"),
    { NULL } },
  { "win.give-years",
    GIVE,
    N_ ("Pictures of the years 0, 1, 3, 5 and 10, PNG"),
    N_ ("export flip-book age growth series"),
    { NULL } },
  { "win.copy-picture",
    GIVE,
    N_ ("Copy the picture to the clipboard"),
    N_ ("image"),
    { "<Control><Shift>c" } },
  { "win.give-crew", GIVE, N_ ("Set-out plan for the crew, PDF"), N_ ("export pack"), { NULL } },
  { "win.give-care-sheet",
    GIVE,
    N_ ("Care sheet for the owner, PDF"),
    N_ ("export print"),
    { NULL } },
  { "win.choose-mark", GIVE, N_ ("Choose your mark for the cover"), N_ ("logo picture"), { NULL } },
  { "win.give-order", GIVE, N_ ("Order list for the nursery, CSV"), N_ ("export"), { NULL } },
  { "win.give-calendar",
    GIVE,
    N_ ("Care calendar, iCalendar or CSV"),
    N_ ("export ics"),
    { NULL } },
  { "win.give-sheet", GIVE, N_ ("Design sheet, JSON"), N_ ("export text"), { NULL } },
};

const BlVerb *
bl_verbs (guint *n)
{
  *n = G_N_ELEMENTS (verbs);
  return verbs;
}

static int
score (const BlVerb *verb, char **wanted)
{
  g_autofree char *title = g_utf8_casefold (_(verb->title), -1);
  g_autofree char *words = g_utf8_casefold (verb->words != NULL ? _(verb->words) : "", -1);
  int total = 0;

  for (guint i = 0; wanted[i] != NULL; i++)
    {
      const char *at;

      if (wanted[i][0] == '\0')
        continue;
      at = strstr (title, wanted[i]);
      if (at != NULL)
        total += at == title ? 4 : at[-1] == ' ' ? 3 : 2;
      else if (strstr (words, wanted[i]) != NULL)
        total += 1;
      else
        return 0;
    }
  return total + 1;
}

typedef struct
{
  int score;
  const BlVerb *verb;
} Hit;

static int
compare_hits (gconstpointer a, gconstpointer b)
{
  return ((const Hit *) b)->score - ((const Hit *) a)->score;
}

GPtrArray *
bl_verbs_find (const char *text)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);
  g_auto (GStrv) wanted = g_strsplit (folded, " ", -1);
  g_autoptr (GArray) hits = g_array_new (FALSE, FALSE, sizeof (Hit));
  GPtrArray *found = g_ptr_array_new ();

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      Hit hit = { score (&verbs[i], wanted), &verbs[i] };

      if (hit.score > 0)
        g_array_append_val (hits, hit);
    }
  g_array_sort (hits, compare_hits);
  for (guint i = 0; i < hits->len; i++)
    g_ptr_array_add (found, (gpointer) g_array_index (hits, Hit, i).verb);
  return found;
}
