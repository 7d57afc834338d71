/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Goods, work, units and pot sizes as the shipped price book names them, in Spanish. */
#include <math.h>
#include <string.h>

#include "proposal/book.h"
#include "takeoff/shown.h"

static const struct
{
  const char *en, *es;
} goods[] = {
  { "Shredded bark mulch, loose", "Corteza triturada, a granel" },
  { "Washed pea gravel, loose", "Gravilla lavada, a granel" },
  { "Screened compost, loose", "Compost cribado, a granel" },
  { "Planting mix (soil and compost), loose", "Mezcla de plantación (tierra y compost), a granel" },
  { "Screened topsoil, loose", "Tierra vegetal cribada, a granel" },
  { "Shredded bark mulch, 2 cu ft bag", "Corteza triturada, saco de 2 pies³" },
  { "Compost, 1 cu ft bag", "Compost, saco de 1 pie³" },
  { "Planting mix, 2 cu ft bag", "Mezcla de plantación, saco de 2 pies³" },
  { "Steel edging with stakes, 10 ft piece", "Borde de acero con estacas, pieza de 10 pies" },
  { "Brick edging on sand, 8 in brick", "Borde de ladrillo sobre arena, ladrillo de 8 pulg" },
  { "Cut stone edging, 12 in piece", "Borde de piedra labrada, pieza de 12 pulg" },
  { "Spade-cut edge (no material)", "Borde cortado a pala (sin material)" },
  { "Landscape fabric, 3 ft × 100 ft roll (only on request)",
    "Malla antihierba, rollo de 3 × 100 pies (solo a petición)" },
  { "Stake and ties, one set", "Tutor y ataduras, un juego" },
  { "Trellis panel, 2 ft × 6 ft", "Celosía, 2 × 6 pies" },
  { "Slow-release fertiliser, 2.5 kg bag", "Abono de liberación lenta, saco de 2,5 kg" },
  { "Strip, loosen and rake the bed", "Desbrozar, aflojar y rastrillar el arriate" },
  { "Lay out and set out plants", "Replantear y repartir las plantas" },
  { "Plant a plug", "Plantar un alvéolo" },
  { "Plant a quart pot", "Plantar una maceta de un cuarto" },
  { "Plant a #1 container", "Plantar un contenedor #1" },
  { "Plant a #2 container", "Plantar un contenedor #2" },
  { "Plant a #3 container", "Plantar un contenedor #3" },
  { "Plant a #5 container", "Plantar un contenedor #5" },
  { "Plant a #7 container", "Plantar un contenedor #7" },
  { "Plant a #15 container", "Plantar un contenedor #15" },
  { "Plant a bulb", "Plantar un bulbo" },
  { "Plant a balled and burlapped plant", "Plantar con cepellón envuelto" },
  { "Water in", "Riego de asiento" },
  { "Stake and tie", "Entutorar y atar" },
  { "Fix a trellis", "Fijar una celosía" },
  { "Spread mulch by hand", "Extender el acolchado a mano" },
  { "Spread and work in soil or compost", "Extender e incorporar tierra o compost" },
  { "Set edging", "Colocar el borde" },
  { "Cut an edge with the spade", "Cortar el borde a pala" },
  { "Lay and pin fabric", "Colocar y fijar la malla" },
  { "Spread fertiliser and rake it in", "Esparcir el abono e incorporarlo con rastrillo" },
  { "Clean up", "Limpieza final" },
  { "Delivery of loose goods, a load of up to 10 cu yd",
    "Transporte a granel, carga de hasta 10 yd³" },
  { "Delivery of plants", "Transporte de plantas" },
  { "Disposal of sod and spoil", "Retirada de césped y tierra sobrante" },
  { "Small loader, a day", "Cargadora pequeña, un día" },
  { "Overhead", "Gastos generales" },
  { "Profit", "Beneficio" },
  { "Discount", "Descuento" },
  { "To the minimum charge", "Hasta el importe mínimo" },
  { "Contingency", "Imprevistos" },
  { "Warranty on plants", "Garantía de las plantas" },
  { "Sales tax", "Impuesto sobre ventas" },
  { "each", "ud." },
  { "bag", "saco" },
  { "load", "carga" },
  { "day", "día" },
  { "cu yd", "yd³" },
  { "sq ft", "pie²" },
  { "ft", "pie" },
  { "plug", "alvéolo" },
  { "quart", "¼ gal" },
  { "bulb", "bulbo" },
};

const char *
bl_book_goods (const BlBook *book, const char *english)
{
  for (guint i = 0; i < G_N_ELEMENTS (goods) && g_strcmp0 (book->language, "es") == 0; i++)
    if (g_strcmp0 (goods[i].en, english) == 0)
      return goods[i].es;
  return english != NULL ? english : "";
}

char *
bl_book_quantity (const BlBook *book, double quantity, const char *unit, const char **shown)
{
  double si;

  *shown = bl_book_goods (book, bl_unit_shown (unit, book->model->units, &si));
  quantity /= si;
  if (fabs (quantity - round (quantity)) < 5e-4)
    return g_strdup_printf ("%.0f", quantity);
  return g_strdup_printf ("%.2f", quantity);
}
