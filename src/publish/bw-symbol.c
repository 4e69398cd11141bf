#define G_LOG_DOMAIN "bw-publish"

#include "bw-symbol.h"

#include <math.h>
#include <string.h>

/* The forms, and where each was read:
 *
 * - "Standards & Guidelines for Knitting and Crochet" (Craft Yarn Council, 2018) lists
 *   what has a symbol; only its table of contents could be read, in the copy at
 *   docslib.org/doc/6742908.
 * - Chain an oval, slip stitch a filled dot, UK double crochet a cross or a plus, half
 *   treble a T: "Crochet Pattern Symbols", crochetzen.com/blog/crochet-pattern-symbols/.
 * - One stroke across the stem of the T for each time the yarn goes round the hook:
 *   "Crochet Chart Symbols", www.cozycrochet.ca/crochet-chart-symbols/; "Basic Crochet
 *   Diagram Symbols Explained", dailyhandmade.com.
 * - A post stitch has a hook at the foot: "Crochet Stitches Symbols",
 *   cozyyarnvibes.com/crochet-stitches-symbols.
 * - Crab stitch a cross with a curved line above it; a popcorn an oval over five stems
 *   from one foot: "Crochet Symbols", handsmake-en.techinfus.com.
 * - Seen from the right side, so that a back loop worked on the wrong side shows as a
 *   front loop: "About Crochet Symbol Charts", www.hookincrochet.com.
 * - From memory: stems joined at the top for a decrease and at the foot for an increase;
 *   which way the hooks turn; a lens of stems for bobble and puff; the arcs of the loops;
 *   the long stem of a spike.
 *
 * Every chart has a key, so nobody has to know them. */

/* Parts of a symbol, in widths of a column. */
#define ARM        0.30 /* half of a cross */
#define CAP        0.26 /* half of the bar of a T */
#define BAR        0.19 /* half of a stroke across a stem */
#define BAR_STEP   0.24 /* from stroke to stroke */
#define SLANT      (-G_PI / 7) /* of strokes, from square to the stem */
#define HOOK       0.15 /* radius of a post's hook */
#define ARC        0.24 /* half of the arc of a loop */
#define ARC_ROOM   0.22 /* what the arc takes below the foot */
#define DETOUR     0.37 /* how far a deep stem goes round the stitch it covers */
#define LENS       0.36 /* half of a bobble */
#define GAP        0.06 /* between a symbol and the edge of its row */

/* One symbol being drawn. */
typedef struct
{
  cairo_t             *cr;
  const BwSymbol      *symbol;
  const BwSymbolPlace *place;
  double               cell;
} Pen;

/* --- Names --- */

/* "-2" at the end of `name`, which is cut off there. */
static gboolean
take_number (char       *name,
             const char *before,
             guint8     *number)
{
  char *at = g_strrstr (name, before);
  const char *digits = at != NULL ? at + strlen (before) : NULL;

  if (at == NULL || !g_ascii_isdigit (*digits) || digits[1] != '\0')
    return FALSE;

  *number = (guint8) (*digits - '0');
  *at = '\0';
  return TRUE;
}

static gboolean
take_post (const char **name,
           guint8      *post)
{
  static const struct { const char *prefix; guint8 post; } posts[] = {
    { "front-post-", BW_SYMBOL_FRONT_POST },
    { "back-post-", BW_SYMBOL_BACK_POST },
  };

  for (guint i = 0; i < G_N_ELEMENTS (posts); i++)
    if (g_str_has_prefix (*name, posts[i].prefix))
      {
        *name += strlen (posts[i].prefix);
        *post = posts[i].post;
        return TRUE;
      }

  return FALSE;
}

static gboolean
find_form (const char *name,
           guint8     *form)
{
  static const char *const names[] = {
    [BW_SYMBOL_NONE] = "none", [BW_SYMBOL_OVAL] = "oval", [BW_SYMBOL_DOT] = "dot",
    [BW_SYMBOL_CROSS] = "cross", [BW_SYMBOL_TEE] = "tee", [BW_SYMBOL_CRAB] = "crab",
    [BW_SYMBOL_SPIKE] = "spike", [BW_SYMBOL_BOBBLE] = "bobble", [BW_SYMBOL_PUFF] = "puff",
    [BW_SYMBOL_POPCORN] = "popcorn", [BW_SYMBOL_SHELL] = "shell", [BW_SYMBOL_V] = "v",
    [BW_SYMBOL_CROSSED] = "crossed",
  };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (name, names[i]))
      {
        *form = (guint8) i;
        return TRUE;
      }

  return FALSE;
}

/**
 * bw_symbol_parse:
 * @name: a symbol's name, as in the stitch dictionary
 * @symbol: (out): what it is made of
 *
 * Returns: FALSE when there is no such symbol
 */
gboolean
bw_symbol_parse (const char *name,
                 BwSymbol   *symbol)
{
  g_autofree char *rest = NULL;
  gboolean joined, barred;
  guint8 none;

  *symbol = (BwSymbol) { .stems = 1 };
  take_post (&name, &symbol->post);
  rest = g_strdup (name);
  joined = take_number (rest, "-tog", &symbol->stems);
  barred = take_number (rest, "tee-", &none) && none >= 1 && none <= BW_SYMBOL_BARS_MAX;
  if (barred)
    {
      symbol->bars = none;
      symbol->form = BW_SYMBOL_TEE;
      if (*rest != '\0')
        return FALSE;
    }
  else if (!find_form (rest, &symbol->form))
    {
      return FALSE;
    }

  if (joined && symbol->stems < 2)
    return FALSE;
  if (symbol->form == BW_SYMBOL_CROSS)
    return TRUE;
  return symbol->form == BW_SYMBOL_TEE ||
         (!joined && symbol->post == BW_SYMBOL_NO_POST);
}

/**
 * bw_symbol_height:
 * @symbol: a symbol
 *
 * Returns: how high the row must be that it stands in, in widths of a column, without
 *   the arc of a loop
 */
double
bw_symbol_height (const BwSymbol *symbol)
{
  double post = symbol->post != BW_SYMBOL_NO_POST ? HOOK : 0;

  switch ((BwSymbolForm) symbol->form)
    {
    case BW_SYMBOL_NONE:
      return 0;
    case BW_SYMBOL_OVAL:
    case BW_SYMBOL_DOT:
      return 0.7;
    case BW_SYMBOL_CROSS:
      return 1;
    case BW_SYMBOL_TEE:
      return 1.3 + 0.4 * symbol->bars + post;
    case BW_SYMBOL_CRAB:
      return 1.2;
    case BW_SYMBOL_SPIKE:
      return 1;
    case BW_SYMBOL_BOBBLE:
    case BW_SYMBOL_PUFF:
    case BW_SYMBOL_POPCORN:
    case BW_SYMBOL_SHELL:
    case BW_SYMBOL_V:
    case BW_SYMBOL_CROSSED:
    default:
      return 1.7;
    }
}

/* --- Strokes --- */

static void
line (const Pen *pen,
      double     x0,
      double     y0,
      double     x1,
      double     y1)
{
  cairo_move_to (pen->cr, x0, y0);
  cairo_line_to (pen->cr, x1, y1);
  cairo_stroke (pen->cr);
}

static void
oval (const Pen *pen,
      double     x,
      double     y,
      double     half_width,
      double     half_height)
{
  cairo_save (pen->cr);
  cairo_translate (pen->cr, x, y);
  cairo_scale (pen->cr, half_width, half_height);
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (pen->cr);
}

/* A stroke across the stem from `a` to `b`, at `t` of its length; `slant` turns it. */
static void
stroke_across (const Pen     *pen,
               BwSymbolPoint  a,
               BwSymbolPoint  b,
               double         t,
               double         half,
               double         slant)
{
  double x = a.x + (b.x - a.x) * t;
  double y = a.y + (b.y - a.y) * t;
  double angle = atan2 (b.y - a.y, b.x - a.x) + G_PI / 2 + slant;

  line (pen, x - half * cos (angle), y - half * sin (angle), x + half * cos (angle),
        y + half * sin (angle));
}

/* The strokes of a stem, evenly about its middle. */
static void
stem_bars (const Pen     *pen,
           BwSymbolPoint  top,
           BwSymbolPoint  foot,
           guint          n)
{
  double length = hypot (foot.x - top.x, foot.y - top.y);
  double step = MIN (BAR_STEP * pen->cell, length * 0.6 / n);
  /* on a stem that leans, a slanted stroke looks like one of its neighbour's */
  double slant = fabs (foot.x - top.x) < 0.25 * fabs (foot.y - top.y) ? SLANT : 0;

  for (guint i = 0; i < n; i++)
    stroke_across (pen, top, foot, 0.45 + (i - (n - 1) / 2.0) * step / length, BAR * pen->cell,
                   slant);
}

static void
cap (const Pen     *pen,
     BwSymbolPoint  top)
{
  line (pen, top.x - CAP * pen->cell, top.y, top.x + CAP * pen->cell, top.y);
}

/* --- Feet --- */

/* From the stem's end round the post below: to the left for a front post, to the
 * right for a back post. */
static void
hook (const Pen     *pen,
      BwSymbolPoint  end)
{
  double r = HOOK * pen->cell;

  if (pen->symbol->post == BW_SYMBOL_FRONT_POST)
    cairo_arc (pen->cr, end.x - r, end.y, r, 0, G_PI * 1.15);
  else
    cairo_arc_negative (pen->cr, end.x + r, end.y, r, G_PI, -G_PI * 0.15);
}

static double
side (const Pen *pen)
{
  return pen->symbol->post == BW_SYMBOL_BACK_POST ? 1 : -1;
}

/* A stem that passes the stitch it covers at its side, and takes hold further down. */
static void
deep_stem (const Pen     *pen,
           BwSymbolPoint  top,
           BwSymbolPoint  foot)
{
  double floor = pen->place->floor;
  double past = foot.x + side (pen) * DETOUR * pen->cell;
  double bend = 0.3 * pen->cell;

  cairo_move_to (pen->cr, top.x, top.y);
  cairo_line_to (pen->cr, top.x, MAX (top.y, floor - bend));
  cairo_curve_to (pen->cr, top.x, floor, past, floor - bend / 2, past, floor + bend);
  if (pen->symbol->post == BW_SYMBOL_NO_POST)
    {
      cairo_line_to (pen->cr, past, foot.y - bend);
      cairo_curve_to (pen->cr, past, foot.y - bend / 2, foot.x, foot.y - bend / 2, foot.x, foot.y);
    }
  else
    {
      cairo_line_to (pen->cr, past, foot.y);
      cairo_curve_to (pen->cr, past, foot.y + 1.4 * bend, foot.x - side (pen) * bend,
                      foot.y + 1.2 * bend, foot.x - side (pen) * DETOUR * 0.8 * pen->cell, foot.y);
    }
  cairo_stroke (pen->cr);
}

/* Returns where the part ends that strokes can cross. */
static BwSymbolPoint
stem (const Pen     *pen,
      BwSymbolPoint  top,
      BwSymbolPoint  foot)
{
  BwSymbolPoint end = foot;

  if (pen->place->deep)
    {
      deep_stem (pen, top, foot);
      return (BwSymbolPoint) { top.x, pen->place->floor };
    }

  if (pen->symbol->post != BW_SYMBOL_NO_POST)
    end.y -= HOOK * pen->cell;
  cairo_move_to (pen->cr, top.x, top.y);
  cairo_line_to (pen->cr, end.x, end.y);
  if (pen->symbol->post != BW_SYMBOL_NO_POST)
    hook (pen, end);
  cairo_stroke (pen->cr);
  return end;
}

/* The loop that the hook goes into, below the foot: a bowl for the back loop, which
 * lies open towards the maker, and a bridge for the front one. */
static void
loop_arc (const Pen     *pen,
          BwSymbolPoint  foot)
{
  double bowl = pen->place->loop == BW_LOOP_BACK ? 1 : -1;
  double height = 0.15 * pen->cell;
  double y = foot.y + ARC_ROOM * pen->cell / 2 - bowl * height / 2;

  cairo_move_to (pen->cr, foot.x - ARC * pen->cell, y);
  cairo_curve_to (pen->cr, foot.x - ARC * 0.6 * pen->cell, y + bowl * height * 1.4,
                  foot.x + ARC * 0.6 * pen->cell, y + bowl * height * 1.4,
                  foot.x + ARC * pen->cell, y);
  cairo_stroke (pen->cr);
}

/* --- Forms --- */

static void
draw_cross (const Pen     *pen,
            BwSymbolPoint  top,
            BwSymbolPoint  foot)
{
  double arm = ARM * pen->cell;
  double y = (top.y + foot.y) / 2;

  if (foot.x == top.x)
    {
      cairo_move_to (pen->cr, top.x, y - arm);
      cairo_line_to (pen->cr, top.x, y + arm);
      line (pen, top.x - arm, y, top.x + arm, y);
      return;
    }

  line (pen, top.x, top.y, foot.x, foot.y);
  stroke_across (pen, top, foot, 0.45, arm * 0.75, 0);
}

static void
draw_crosses (const Pen *pen)
{
  const BwSymbolPlace *place = pen->place;

  if (pen->symbol->stems == 1)
    {
      draw_cross (pen, place->tops[0], place->feet[0]);
      return;
    }

  for (guint i = 0; i < place->n_feet; i++)
    {
      stem (pen, place->tops[0], place->feet[i]);
      stroke_across (pen, place->tops[0], place->feet[i], 0.58, ARM * 0.6 * pen->cell, 0);
    }
}

static void
draw_tee (const Pen     *pen,
          BwSymbolPoint  top,
          BwSymbolPoint  foot,
          guint          bars)
{
  BwSymbolPoint end = stem (pen, top, foot);

  cap (pen, top);
  if (bars > 0)
    stem_bars (pen, top, end, bars);
}

static void
draw_tees (const Pen *pen)
{
  for (guint i = 0; i < pen->place->n_feet; i++)
    draw_tee (pen, pen->place->tops[0], pen->place->feet[i], pen->symbol->bars);
}

static void
draw_crab (const Pen *pen)
{
  BwSymbolPoint top = pen->place->tops[0];
  BwSymbolPoint foot = pen->place->feet[0];
  double arm = ARM * pen->cell;

  draw_cross (pen, (BwSymbolPoint) { foot.x, top.y + 0.8 * arm }, foot);
  cairo_move_to (pen->cr, top.x - arm, top.y + 0.45 * arm);
  cairo_curve_to (pen->cr, top.x - 0.4 * arm, top.y - 0.6 * arm, top.x + 0.4 * arm,
                  top.y + 1.2 * arm, top.x + arm, top.y + 0.15 * arm);
  cairo_stroke (pen->cr);
}

/* A cross at the top of its row on a stem that reaches down. */
static void
draw_spike (const Pen *pen)
{
  BwSymbolPoint top = pen->place->tops[0];
  BwSymbolPoint foot = pen->place->feet[0];
  double arm = ARM * pen->cell;
  double barb = 0.13 * pen->cell;

  stem (pen, (BwSymbolPoint) { top.x, top.y + arm * 0.4 }, foot);
  line (pen, top.x - arm, top.y + 1.3 * arm, top.x + arm, top.y + 1.3 * arm);
  cairo_move_to (pen->cr, foot.x - barb, foot.y - barb);
  cairo_line_to (pen->cr, foot.x, foot.y);
  cairo_line_to (pen->cr, foot.x + barb, foot.y - barb);
  cairo_stroke (pen->cr);
}

/* Stems that part at the foot and come together at the top. */
static void
draw_lens (const Pen *pen,
           guint      stems,
           gboolean   bars)
{
  BwSymbolPoint top = pen->place->tops[0];
  BwSymbolPoint foot = pen->place->feet[0];
  double third = (foot.y - top.y) / 3;

  cap (pen, top);
  for (guint i = 0; i < stems; i++)
    {
      double out = (i * 2.0 / (stems - 1) - 1) * LENS * pen->cell;
      BwSymbolPoint high = { (top.x + foot.x) / 2 + out, top.y + third * 1.35 };
      BwSymbolPoint low = { (top.x + foot.x) / 2 + out, foot.y - third * 1.35 };

      cairo_move_to (pen->cr, foot.x, foot.y);
      cairo_curve_to (pen->cr, foot.x + out * 1.33, foot.y - third, top.x + out * 1.33,
                      top.y + third, top.x, top.y);
      cairo_stroke (pen->cr);
      if (bars)
        stroke_across (pen, high, low, 0.5, 0.08 * pen->cell, SLANT);
    }
}

static void
draw_popcorn (const Pen *pen)
{
  BwSymbolPoint top = pen->place->tops[0];
  BwSymbolPoint foot = pen->place->feet[0];
  double lid = 0.11 * pen->cell;
  guint stems = 5;

  oval (pen, top.x, top.y + lid, LENS * pen->cell, lid);
  cairo_stroke (pen->cr);
  for (guint i = 0; i < stems; i++)
    {
      double out = (i * 2.0 / (stems - 1) - 1) * LENS * pen->cell;
      double sag = lid * sqrt (1 - pow (i * 2.0 / (stems - 1) - 1, 2));
      BwSymbolPoint end = { top.x + out, top.y + lid + sag };

      line (pen, end.x, end.y, foot.x, foot.y);
      stroke_across (pen, end, foot, 0.4, 0.08 * pen->cell, SLANT);
    }
}

static void
draw_oval (const Pen *pen)
{
  BwSymbolPoint top = pen->place->tops[0];
  double room = pen->place->feet[0].y - top.y;

  oval (pen, top.x, top.y + MIN (room / 2, 0.3 * pen->cell), 0.34 * pen->cell, 0.17 * pen->cell);
  cairo_stroke (pen->cr);
}

static void
draw_dot (const Pen *pen)
{
  BwSymbolPoint top = pen->place->tops[0];

  oval (pen, top.x, (top.y + pen->place->feet[0].y) / 2, 0.2 * pen->cell, 0.12 * pen->cell);
  cairo_fill (pen->cr);
}

/* Tees from one foot; in the middle of a V, a chain. */
static void
draw_fan (const Pen *pen)
{
  const BwSymbolPlace *place = pen->place;

  for (guint i = 0; i < place->n_tops; i++)
    if (pen->symbol->form == BW_SYMBOL_V && i > 0 && i + 1 < place->n_tops)
      {
        oval (pen, place->tops[i].x, place->tops[i].y + 0.2 * pen->cell, 0.24 * pen->cell,
              0.12 * pen->cell);
        cairo_stroke (pen->cr);
      }
    else
      {
        draw_tee (pen, place->tops[i], place->feet[0], 1);
      }
}

/* Each stem goes into the other's stitch; the later one lies in front. */
static void
draw_crossed (const Pen *pen)
{
  const BwSymbolPlace *place = pen->place;
  guint last = place->n_feet - 1;
  BwSymbolPoint middle = { (place->tops[0].x + place->feet[last].x) / 2,
                           (place->tops[0].y + place->feet[last].y) / 2 };
  double part = 0.42;

  for (guint i = 0; i < 2; i++)
    {
      BwSymbolPoint end = i == 0 ? place->tops[0] : place->feet[last];

      line (pen, end.x, end.y, end.x + (middle.x - end.x) * 2 * part,
            end.y + (middle.y - end.y) * 2 * part);
    }
  cap (pen, place->tops[0]);
  stroke_across (pen, place->tops[0], place->feet[last], 0.25, BAR * pen->cell, SLANT);
  line (pen, place->tops[1].x, place->tops[1].y, place->feet[0].x, place->feet[0].y);
  cap (pen, place->tops[1]);
  stroke_across (pen, place->tops[1], place->feet[0], 0.25, BAR * pen->cell, SLANT);
}

static void
draw_form (const Pen *pen)
{
  switch ((BwSymbolForm) pen->symbol->form)
    {
    case BW_SYMBOL_OVAL:
      draw_oval (pen);
      break;
    case BW_SYMBOL_DOT:
      draw_dot (pen);
      break;
    case BW_SYMBOL_CROSS:
      draw_crosses (pen);
      break;
    case BW_SYMBOL_TEE:
      draw_tees (pen);
      break;
    case BW_SYMBOL_CRAB:
      draw_crab (pen);
      break;
    case BW_SYMBOL_SPIKE:
      draw_spike (pen);
      break;
    case BW_SYMBOL_BOBBLE:
      draw_lens (pen, 5, TRUE);
      break;
    case BW_SYMBOL_PUFF:
      draw_lens (pen, 3, FALSE);
      break;
    case BW_SYMBOL_POPCORN:
      draw_popcorn (pen);
      break;
    case BW_SYMBOL_SHELL:
    case BW_SYMBOL_V:
      draw_fan (pen);
      break;
    case BW_SYMBOL_CROSSED:
      draw_crossed (pen);
      break;
    case BW_SYMBOL_NONE:
    default:
      break;
    }
}

/**
 * bw_symbol_draw:
 * @cr: a context, in its current colour
 * @symbol: a symbol
 * @place: where it stands: its feet on the edge of the row below, its tops on the upper
 *   edge of its row
 *
 * Leaves a little room at both edges of the row, so that symbols do not touch.
 */
void
bw_symbol_draw (cairo_t             *cr,
                const BwSymbol      *symbol,
                const BwSymbolPlace *place)
{
  BwSymbolPlace inner = *place;
  Pen pen = { cr, symbol, &inner, place->cell };
  double below = place->deep ? 0 : GAP;

  g_return_if_fail (place->n_feet > 0 && place->n_feet <= BW_SYMBOL_POINTS_MAX);
  g_return_if_fail (place->n_tops > 0 && place->n_tops <= BW_SYMBOL_POINTS_MAX);
  g_return_if_fail (symbol->form != BW_SYMBOL_CROSSED ||
                    (place->n_feet == 2 && place->n_tops == 2));

  if (place->loop != BW_LOOP_BOTH)
    below += ARC_ROOM;
  for (guint i = 0; i < place->n_feet; i++)
    inner.feet[i].y -= below * place->cell;
  for (guint i = 0; i < place->n_tops; i++)
    inner.tops[i].y += 1.5 * GAP * place->cell;

  cairo_save (cr);
  cairo_set_line_width (cr, place->line);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_new_path (cr);
  draw_form (&pen);
  if (place->loop != BW_LOOP_BOTH && symbol->form != BW_SYMBOL_NONE)
    for (guint i = 0; i < place->n_feet; i++)
      loop_arc (&pen, inner.feet[i]);
  cairo_restore (cr);
}
