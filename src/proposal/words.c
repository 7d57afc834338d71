/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The papers' own words, English and Spanish. */
#include "proposal/words.h"

#include <string.h>

static const struct
{
  const char *en, *es;
} words[] = {
  { "Planting proposal", "Propuesta de plantación" },
  { "Prepared for", "Preparada para" },
  { "Prepared by", "Preparada por" },
  { "Date", "Fecha" },
  { "Today", "Hoy" },
  { "As proposed, %s, year %g", "Según la propuesta, %s, año %g" },
  { "The place, and what was found", "El lugar y lo que se encontró" },
  { "Area", "Superficie" },
  { "Bed line", "Contorno" },
  { "Hardiness zone", "Zona de rusticidad" },
  { "Last spring frost", "Última helada de primavera" },
  { "First autumn frost", "Primera helada de otoño" },
  { "median", "mediana" },
  { "Direct sun", "Sol directo" },
  { "%.1f hours a day", "%.1f horas al día" },
  { "Soil", "Suelo" },
  { "Moisture", "Humedad" },
  { "sand", "arena" },
  { "loam", "franco" },
  { "clay", "arcilla" },
  { "dry", "seco" },
  { "medium", "medio" },
  { "wet", "húmedo" },
  { "not stated", "sin indicar" },
  { "Road salt", "Sal de carretera" },
  { "the whole strip", "toda la franja" },
  { "along the marked edge", "a lo largo del borde marcado" },
  { "none marked", "sin marcar" },
  { "Ploughed snow", "Nieve apilada" },
  { "piled where marked", "se apila donde está marcado" },
  { "Deer", "Ciervos" },
  { "Wind", "Viento" },
  { "sheltered", "resguardado" },
  { "open", "abierto" },
  { "windy", "ventoso" },
  { "Hot days", "Días de calor" },
  { "about %.0f a year above 30 °C (86 °F)", "unos %.0f al año por encima de 30 °C" },
  { "browse here", "ramonean aquí" },
  { "not reported", "sin noticias" },
  { "How the area was measured", "Cómo se midió la superficie" },
  { "The bed was measured from one photo. From what is known on it the camera was solved: it stood "
    "%s above the ground and looked %.0f° down. The figure after ± is half of the interval that "
    "holds the true value in 19 cases of 20.",
    "El arriate se midió sobre una sola foto. Con lo conocido en ella se calculó la cámara: estaba "
    "a %s del suelo y miraba %.0f° hacia abajo. La cifra tras ± es la mitad del intervalo que "
    "contiene el valor real en 19 de cada 20 casos." },
  { "The bed's outline was stated by measurements on site.",
    "El contorno del arriate se dio con medidas tomadas en el lugar." },
  { "Alternative %s", "Alternativa %s" },
  { "The idea", "La idea" },
  { "Plan", "Plano" },
  { "Palette", "Paleta" },
  { "Through the year", "A lo largo del año" },
  { "Price", "Precio" },
  { "plants", "plantas" },
  { "Plants", "Plantas" },
  { "Kinds", "Especies" },
  { "Scale %s. Print at 100 %%.", "Escala %s. Imprimir al 100 %%." },
  { "The months and the years", "Los meses y los años" },
  { "Year %g", "Año %g" },
  { "Side by side", "Lado a lado" },
  { "Months in flower", "Meses en flor" },
  { "Water, first season", "Agua, primera temporada" },
  { "Care, first year", "Cuidado, primer año" },
  { "Care, later years", "Cuidado, años siguientes" },
  { "%.0f hours", "%.0f horas" },
  { "Points to check", "Puntos por revisar" },
  { "Plant schedule", "Lista de plantas" },
  { "Key", "Clave" },
  { "Qty", "Cant." },
  { "Botanical name", "Nombre botánico" },
  { "Common name", "Nombre común" },
  { "Size", "Tamaño" },
  { "Spacing", "Distancia" },
  { "Remarks", "Notas" },
  { "one by one", "sueltas" },
  { "Estimate", "Presupuesto" },
  { "Materials", "Materiales" },
  { "Labour", "Mano de obra" },
  { "Delivery, equipment and disposal", "Transporte, equipo y retirada" },
  { "Overhead, profit and allowances", "Gastos generales, beneficio y reservas" },
  { "Tax", "Impuesto" },
  { "What to do", "Qué hacer" },
  { "Item", "Concepto" },
  { "Quantity", "Cantidad" },
  { "Unit", "Unidad" },
  { "Rate", "Precio" },
  { "Amount", "Importe" },
  { "Total", "Total" },
  { "Deposit", "Anticipo" },
  { "Range, by the measured area", "Intervalo, según la superficie medida" },
  { "%s to %s, by the measured area", "de %s a %s, según la superficie medida" },
  { "Some prices here are invented figures that came with the program; replace them with your own "
    "before you sign.",
    "Algunos precios son cifras inventadas que venían con el programa; cámbielos por los suyos "
    "antes de firmar." },
  { "Terms", "Condiciones" },
  { "Acceptance", "Aceptación" },
  { "I accept alternative", "Acepto la alternativa" },
  { "Signature", "Firma" },
  { "Name", "Nombre" },
  { "Care for the first years", "Cuidados de los primeros años" },
  { "When", "Cuándo" },
  { "Planting year", "Año de plantación" },
  { "Cautions and local checks", "Precauciones y comprobaciones locales" },
  { "Call before digging", "Llame antes de cavar" },
  { "Have every buried line marked by the local utility notification service (811 in the United "
    "States) before any digging, however shallow, and dig by hand within the tolerance zone that "
    "applies where you are.",
    "Haga marcar todas las líneas enterradas por el servicio local de aviso (811 en Estados "
    "Unidos) antes de cavar, aunque sea poco, y cave a mano dentro de la zona de tolerancia que "
    "rija en su localidad." },
  { "Sight lines", "Visibilidad" },
  { "Codes limit the height of plants at drives and corners. The limits differ from place to "
    "place; "
    "ask the local authority, and judge plants at their mature height.",
    "Las normas limitan la altura de las plantas en entradas y esquinas. Los límites cambian de un "
    "lugar a otro; pregunte a la autoridad local y juzgue las plantas por su altura adulta." },
  { "Plants that can do harm", "Plantas que pueden hacer daño" },
  { "A plant without a report here is not thereby harmless. In case of poisoning call the local "
    "poison control centre.",
    "Que una planta no figure aquí no significa que sea inofensiva. En caso de intoxicación llame "
    "al centro local de toxicología." },
  { "Regulated plants", "Plantas reguladas" },
  { "Lists of regulated plants differ by state and change; check the current list before buying or "
    "planting.",
    "Las listas de plantas reguladas varían según el estado y cambian; consulte la lista vigente "
    "antes de comprar o plantar." },
  { "Hydrants, transformers, boxes", "Hidrantes, transformadores, cajas" },
  { "Keep the clearances that their owners ask for; the fire department and the utility say which.",
    "Respete las distancias que exigen sus dueños; las indican los bomberos y la compañía." },
  { "Licensed work", "Trabajos con licencia" },
  { "Electrical work, irrigation connections, pesticide use and tree work may be reserved to "
    "licensed people; local law says which.",
    "Los trabajos eléctricos, las conexiones de riego, los plaguicidas y la poda de árboles pueden "
    "estar reservados a personas con licencia; lo dice la ley local." },
  { "What the checks found", "Lo que hallaron las comprobaciones" },
  { "Alternative", "Alternativa" },
  { "Finding", "Hallazgo" },
  { "Source", "Fuente" },
  { "Sources, and what ± means", "Fuentes y qué significa ±" },
  { "Plant facts rest on common practice and the basis stated with each record; sizes are mature "
    "sizes on ordinary ground. Colours and forms are drawn from the same facts and are a likeness, "
    "not a promise. Prices, rates and dates come from the designer's own book.",
    "Los datos de las plantas se apoyan en la práctica común y en la base indicada en cada ficha; "
    "los tamaños son los adultos en suelo corriente. Colores y formas se dibujan con esos datos y "
    "son un parecido, no una promesa. Precios, rendimientos y fechas vienen del libro del "
    "diseñador." },
  { "caution", "precaución" },
  { "unlikely to do well", "difícil que prospere" },
  { "do not", "no plantar" },
  { "Crew pack", "Hoja de obra" },
  { "Planting plan", "Plano de plantación" },
  { "Set-out table", "Tabla de replanteo" },
  { "Hook one tape on each of the two points named and hold the plant where the two readings meet.",
    "Enganche una cinta en cada uno de los dos puntos nombrados y ponga la planta donde se cruzan "
    "las dos lecturas." },
  { "Closing check: from %s to %s the tape must read %s.",
    "Comprobación: de %s a %s la cinta debe marcar %s." },
  { "Plant", "Planta" },
  { "Side", "Lado" },
  { "left", "izquierda" },
  { "right", "derecha" },
  { "Sides are named as seen when looking from the first point to the second.",
    "Los lados se nombran mirando del primer punto al segundo." },
  { "Order of work", "Orden de trabajo" },
  { "Materials and delivery", "Materiales y entrega" },
  { "Order", "Pedir" },
  { "Needed", "Necesario" },
  { "Weight", "Peso" },
  { "Tools", "Herramientas" },
  { "Before the first spade", "Antes de la primera palada" },
  { "Tall to low, back to front:", "De alta a baja, de atrás hacia delante:" },
  { "Prepare the bed: clear, loosen, work in compost.",
    "Preparar el arriate: limpiar, aflojar, incorporar compost." },
  { "Set the edging on the bed line.", "Colocar el borde en el contorno." },
  { "Set out all pots, check against the plan, adjust, then plant.",
    "Repartir todas las macetas, comprobar con el plano, ajustar y plantar." },
  { "Water in, then mulch, keeping crowns clear.",
    "Regar y luego acolchar, dejando libres los cuellos." },
  { "Care of the new bed", "Cuidado del nuevo arriate" },
  { "The yearly round", "El año completo" },
  { "Nothing is planted in this alternative yet.", "En esta alternativa aún no hay plantas." },
  { "In this proposal", "En esta propuesta" },
  { "The site", "El lugar" },
  { "wall", "muro" },
  { "fence", "valla" },
  { "post", "poste" },
  { "tree", "árbol" },
  { "kerb", "bordillo" },
  { "walk", "acera" },
  { "drive", "entrada" },
  { "utility_box", "caja de servicios" },
  { "transformer", "transformador" },
  { "hydrant", "hidrante" },
  { "buried_line", "línea enterrada" },
  { "snow_pile", "nieve apilada" },
  { "salted_edge", "borde salado" },
  { "sight_triangle", "triángulo de visibilidad" },
  { "walnut", "nogal" },
  { "stone", "piedra" },
  { "fixed_point", "punto fijo" },
  { "door", "puerta" },
  { "Shaded: a month of the growing season without flowers.",
    "Sombreado: un mes de la temporada sin flores." },
  { "All in %s of year %g", "Todas en %s del año %g" },
  { "Plans not to scale; filled months have something in flower",
    "Planos sin escala; en los meses llenos hay algo en flor" },
  { "Evergreen share of the plants", "Parte perenne de las plantas" },
  { "Plants and places that will not do well", "Plantas que no prosperarían" },
  { "● marks the best figure of a row. Which row counts most, you decide.",
    "● señala la mejor cifra de cada fila. Qué fila pesa más lo decide usted." },
  { "† Reported to do harm: see the cautions. A plant without a mark is not thereby harmless. "
    "Spacing "
    "is from stem to stem.",
    "† Consta que puede dañar: vea las precauciones. Que una planta no lleve marca no significa "
    "que "
    "sea inofensiva. La distancia se mide de tallo a tallo." },
  { "severely poisonous", "muy venenosa" },
  { "poisonous", "venenosa" },
  { "mild harm", "daño leve" },
  { "people", "personas" },
  { "dogs", "perros" },
  { "cats", "gatos" },
  { "livestock", "ganado" },
  { "stake", "tutor" },
  { "trellis", "celosía" },
  { "Options", "Opciones" },
  { "Care by us through the first year", "Cuidado por nosotros el primer año" },
  { "Care by us in each later year", "Cuidado por nosotros cada año siguiente" },
  { "Tick what you want; none is in the price above. Care is the calendar's hours at %s an hour, "
    "before "
    "tax.",
    "Marque lo que desee; nada de ello está en el precio anterior. El cuidado son las horas del "
    "calendario a %s la hora, sin impuesto." },
  { "The first summer", "El primer verano" },
  { "Each plant and time", "Por planta y riego" },
  { "to cart away", "para retirar" },
  { "This offer is valid for %d days from its date, until %s.",
    "Esta oferta vale %d días desde su fecha, hasta el %s." },
  { "The deposit is asked for on acceptance and counts towards the total.",
    "El anticipo se pide al aceptar y se descuenta del total." },
  { "The client", "El cliente" },
  { "The designer", "El diseñador" },
  { "The figures are hours of work in that year; an empty field means that the work is not due. "
    "Dates "
    "follow the frost dates of the place.",
    "Las cifras son horas de trabajo en ese año; un campo vacío significa que no toca. Las fechas "
    "siguen las heladas del lugar." },
  { "The hours rest on invented rates that came with the program, until the firm puts its own.",
    "Las horas se basan en rendimientos inventados que vienen con el programa, hasta que la empresa "
    "ponga los suyos." },
  { "Year 1", "Año 1" },
  { "Year 2", "Año 2" },
  { "Year 3", "Año 3" },
  { "Later, a year", "Luego, al año" },
  { "Spring", "Primavera" },
  { "Summer", "Verano" },
  { "Autumn and winter", "Otoño e invierno" },
  { "salt and snow side", "lado de sal y nieve" },
  { "every %d days", "cada %d días" },
  { "Verdict", "Dictamen" },
  { "Sources of the findings:", "Fuentes de los hallazgos:" },
  { "A figure after ± is half of the interval that holds the true value in 19 cases of 20, from "
    "the "
    "errors of clicking, of the stated lengths and of tapes. The range of a price follows the "
    "area's "
    "interval alone, not prices or hours.",
    "La cifra tras ± es la mitad del intervalo que contiene el valor real en 19 de cada 20 casos, "
    "por "
    "los errores al marcar, de las longitudes dadas y de las cintas. El intervalo de un precio "
    "sigue "
    "solo al de la superficie, no a precios ni horas." },
  { "Steps", "Pasos" },
  { "The marks of the buried lines are still visible.",
    "Las marcas de las líneas enterradas siguen visibles." },
  { "Side towards traffic coned off; high visibility clothing on.",
    "Lado del tráfico con conos; ropa de alta visibilidad puesta." },
  { "Plants shaded and watered on arrival, and every one of the list counted.",
    "Plantas a la sombra y regadas al llegar, y contadas todas las de la lista." },
  { "Two tapes of at least %s, pegs, string, marking paint, spades, rakes, barrow, hose or water "
    "tank, "
    "gloves, eye protection, this plan.",
    "Dos cintas de al menos %s, estacas, cuerda, pintura de marcar, palas, rastrillos, carretilla, "
    "manguera o depósito de agua, guantes, gafas de protección, este plano." },
  { "Plants to count on arrival", "Plantas que contar al llegar" },
  { "peg %u, to be driven on the bed line first", "estaca %u, que se clava antes en el contorno" },
  { "%s, corner %u", "%s, esquina %u" },
  { "Point", "Punto" },
  { "Where to hook the tape", "Dónde enganchar la cinta" },
  { "Plants, from %s and %s", "Plantas, desde %s y %s" },
  { "Corners, from %s and %s", "Esquinas, desde %s y %s" },
  { "Corner", "Esq." },
  { "Drift of %s", "Mancha de %s" },
  { "Bed line of “%s”", "Contorno de «%s»" },
  { "Outlines to mark", "Contornos que marcar" },
  { "Numbers are corners of the bed line, letters those of the drifts (dashed); the set-out table says "
    "where each lies.",
    "Los números son esquinas del contorno, las letras las de las manchas (a trazos); la tabla de "
    "replanteo dice dónde está cada una." },
  { "Mark the corners first and join them with paint; the plan of outlines shows how.",
    "Marque primero las esquinas y únalas con pintura; el plano de contornos muestra cómo." },
  { "Offsets from a baseline", "Ordenadas desde una línea base" },
  { "Baseline from %s to %s", "Línea base de %s a %s" },
  { "Lay a tape from the first point to the second and leave it there. Go along it, then square off it.",
    "Tienda una cinta del primer punto al segundo y déjela ahí. Avance por ella y luego a escuadra." },
  { "A minus means before the first point.", "Un menos significa antes del primer punto." },
  { "Place", "Lugar" },
  { "Along", "Avance" },
  { "Off", "A escuadra" },
  { "From %s", "Desde %s" },
  { "Angle", "Ángulo" },
  { "The angle is the one at which the tapes cross: the nearer to 90°, the truer.",
    "El ángulo es el del cruce de las cintas: cuanto más cerca de 90°, más exacto." },
  { "%u more tasks stand in the calendar of the proposal.",
    "Otras %u tareas están en el calendario de la propuesta." },
  { "Dates follow the usual frosts; go by the weather of the year.",
    "Las fechas siguen las heladas habituales; guíese por el tiempo de cada año." },
};

static const char *const months_en[] = { "January", "February", "March", "April", "May", "June",
                                         "July", "August", "September", "October", "November",
                                         "December" };
static const char *const months_es[] = { "enero", "febrero", "marzo", "abril", "mayo", "junio",
                                         "julio", "agosto", "septiembre", "octubre", "noviembre",
                                         "diciembre" };
static const char *const short_en[] = { "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug",
                                        "Sep", "Oct", "Nov", "Dec" };
static const char *const short_es[] = { "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago",
                                        "sep", "oct", "nov", "dic" };

static gboolean
is_spanish (const char *language)
{
  return language != NULL && strncmp (language, "es", 2) == 0;
}

const char *
bl_word (const char *language, const char *english)
{
  if (!is_spanish (language))
    return english;
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (words[i].en, english) == 0)
      return words[i].es;
  return english;
}

const char *
bl_month_name (const char *language, int month, gboolean is_short)
{
  int i = CLAMP (month, 1, 12) - 1;

  if (is_spanish (language))
    return is_short ? short_es[i] : months_es[i];
  return is_short ? short_en[i] : months_en[i];
}

const char *
bl_words_missing (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].es == NULL || *words[i].es == '\0')
      return words[i].en;
  return NULL;
}

const char *
bl_words_at (guint i, const char **spanish)
{
  if (i >= G_N_ELEMENTS (words))
    return NULL;
  *spanish = words[i].es;
  return words[i].en;
}
