#define G_LOG_DOMAIN "bw-publish"

#include "bw-publish-private.h"

#include "bw-page-private.h"

/* Tables: a size a row. What does not fit beside each other goes into another
 * table below, what does not fit below each other goes on on the next page
 * under the same head. */

#define COLUMNS_MOST 5 /* of figures, beside the name of the size */

typedef char *(*CellText) (const BwPageSetter *setter,
                           const BwGradedSize *size,
                           guint               column);

typedef struct
{
  BwPageSetter *setter;
  guint         n;       /* columns of figures */
  guint         first;   /* what the first of them is, for CellText */
  char        **heads;
  CellText      cell;
} Table;

static double
column_x (const Table *table,
          guint        column)
{
  double frame = bw_page_style_frame_width (&table->setter->flow->style);
  double name = frame * 0.3;

  return name + column * (frame - name) / MAX (table->n, 4);
}

static double
column_width (const Table *table)
{
  return column_x (table, 1) - column_x (table, 0) - 8;
}

static int
add_head (const Table *table)
{
  BwPageFlow *flow = table->setter->flow;
  BwPiece *piece = bw_page_flow_add (flow, "TR", flow->style.text,
                                     BW_PIECE_KEEP | BW_PIECE_RULE_BELOW | BW_PIECE_NEW_TABLE);
  int index = (int) flow->pieces->len - 1;

  bw_page_flow_set (flow, piece,
                    bw_page_flow_layout (flow, _("Size"), flow->style.small, TRUE,
                                         column_x (table, 0) - 8),
                    0, "TH");
  for (guint i = 0; i < table->n; i++)
    bw_page_flow_set (flow, piece,
                      bw_page_flow_layout (flow, table->heads[i], flow->style.small, TRUE,
                                           column_width (table)),
                      column_x (table, i), "TH");
  piece->height += 2;
  return index;
}

static void
add_row (const Table *table,
         guint        k,
         int          head)
{
  BwPageFlow *flow = table->setter->flow;
  const BwGradedSize *size = g_ptr_array_index (table->setter->view->sizes, k);
  gboolean last = k + 1 == table->setter->n_sizes;
  BwPiece *piece = bw_page_flow_add (flow, "TR", 3, k == 0 || k + 2 == table->setter->n_sizes
                                                      ? BW_PIECE_KEEP
                                                      : last ? BW_PIECE_RULE_BELOW : 0);

  piece->repeats = head;
  bw_page_flow_set (flow, piece,
                    bw_page_flow_layout (flow, bw_words_size_name (size->choice), flow->style.text,
                                         k % 2 == 1, column_x (table, 0) - 8),
                    0, "TH");
  for (guint i = 0; i < table->n; i++)
    {
      g_autofree char *text = table->cell (table->setter, size, table->first + i);

      bw_page_flow_set (flow, piece,
                        bw_page_flow_layout (flow, text, flow->style.text, k % 2 == 1,
                                             column_width (table)),
                        column_x (table, i), "TD");
    }
}

static void
add_table (const Table *table)
{
  int head = add_head (table);

  for (guint k = 0; k < table->setter->n_sizes; k++)
    add_row (table, k, head);
}

/* --- Sizes --- */

typedef enum
{
  COLUMN_HEAD,
  COLUMN_GIRTH,
  COLUMN_BRIM,
  COLUMN_DEPTH,
} SizeColumn;

static gboolean
has_brim (const BwPageSetter *setter)
{
  return setter->view->design->brim.kind != BW_BRIM_NONE;
}

static char *
size_cell (const BwPageSetter *setter,
           const BwGradedSize *size,
           guint               column)
{
  double mm = size->depth_mm;

  if (column >= COLUMN_BRIM && !has_brim (setter))
    column++;
  if (column == COLUMN_HEAD)
    mm = size->head_mm;
  else if (column == COLUMN_GIRTH)
    mm = size->girth_mm;
  else if (column == COLUMN_BRIM)
    mm = size->brim_mm;
  return bw_words_length_value (setter->view->design, mm);
}

/**
 * bw_page_add_sizes:
 * @setter: an edition of several sizes being set
 *
 * Adds the table of what each size fits and measures.
 */
void
bw_page_add_sizes (BwPageSetter *setter)
{
  /* Translators: the %s is the unit, cm or in */
  const char *const names[] = { N_("To fit head, %s"), N_("Finished girth, %s"),
                                N_("Brim, relaxed, %s"), N_("Depth, edge to middle of crown, %s") };
  const char *unit = bw_words_unit (setter->view->design);
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  Table table = { setter, 0, 0, NULL, size_cell };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (i != COLUMN_BRIM || has_brim (setter))
      {
        g_autoptr (GString) head = g_string_new (_(names[i]));

        g_string_replace (head, "%s", unit, 1);
        g_ptr_array_add (heads, g_strdup (head->str));
      }
  table.n = heads->len;
  table.heads = (char **) heads->pdata;
  add_table (&table);
}

/* --- Yarn --- */

static char *
yarn_cell (const BwPageSetter *setter G_GNUC_UNUSED,
           const BwGradedSize *size,
           guint               colour)
{
  g_autofree char *metres = bw_units_format_number (size->colour_m[colour], 0);
  guint balls = size->balls[colour];

  if (balls == 0)
    return g_strdup_printf (_("%s m"), metres);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s m; %u ball", "%s m; %u balls", balls),
                          metres, balls);
}

/**
 * bw_page_add_yarn:
 * @setter: an edition of several sizes being set
 *
 * Adds what each size needs of each colour, in several tables where there are many.
 */
void
bw_page_add_yarn (BwPageSetter *setter)
{
  guint n = setter->view->design->colours->len;

  for (guint first = 0; first < n; first += COLUMNS_MOST)
    {
      g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
      Table table = { setter, MIN (COLUMNS_MOST, n - first), first, NULL, yarn_cell };

      for (guint i = 0; i < table.n; i++)
        g_ptr_array_add (heads, bw_words_colour (setter->view->design, first + i));
      table.heads = (char **) heads->pdata;
      add_table (&table);
    }
}
