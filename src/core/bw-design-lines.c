#define G_LOG_DOMAIN "bw-core"

#include <string.h>

#include "bw-design-lines.h"

/* A text is a list of blocks. A block is a header with the comments that stand
 * right above it, and the lines up to the next block:
 *
 *   # about the brim      lead
 *   [Brim]                header
 *   kind=slip-rib         body: a line with a key
 *   # folded in winter    body: a line without
 *   folded=yes            body: a line with a key
 *                         body: a line without
 *
 * What stands before the first block is a block without a name. */

typedef struct
{
  char *text; /* without the line break */
  char *key;  /* NULL = a comment or nothing */
} Line;

typedef struct
{
  char      *name;   /* NULL = before the first header */
  GPtrArray *lead;   /* of char: comment lines above the header */
  char      *header; /* the header's line; NULL where name is */
  GPtrArray *body;   /* of Line */
} Block;

struct _BwLines
{
  GPtrArray *blocks; /* of Block; the first has no name */
};

static void
line_free (Line *line)
{
  g_free (line->text);
  g_free (line->key);
  g_free (line);
}

static Line *
line_new (const char *text,
          char       *key)
{
  Line *line = g_new (Line, 1);

  line->text = g_strdup (text);
  line->key = key;

  return line;
}

static void
block_free (Block *block)
{
  g_free (block->name);
  g_ptr_array_unref (block->lead);
  g_free (block->header);
  g_ptr_array_unref (block->body);
  g_free (block);
}

static Block *
block_new (const char *name,
           const char *header)
{
  Block *block = g_new (Block, 1);

  block->name = g_strdup (name);
  block->lead = g_ptr_array_new_with_free_func (g_free);
  block->header = g_strdup (header);
  block->body = g_ptr_array_new_with_free_func ((GDestroyNotify) line_free);

  return block;
}

/* ---- reading ----------------------------------------------------------- */

static gboolean
is_comment (const Line *line)
{
  const char *p = line->text;

  while (g_ascii_isspace (*p))
    p++;

  return *p == '#';
}

/* The comments right above a header were read as the end of the block before. */
static void
take_lead (Block *block,
           Block *before)
{
  guint first = before->body->len;

  while (first > 0 && is_comment (g_ptr_array_index (before->body, first - 1)))
    first--;

  for (guint i = first; i < before->body->len; i++)
    {
      Line *line = g_ptr_array_index (before->body, i);

      g_ptr_array_add (block->lead, g_strdup (line->text));
    }

  g_ptr_array_set_size (before->body, (int) first);
}

static void
add_line (BwLines    *lines,
          const char *text)
{
  Block *last = g_ptr_array_index (lines->blocks, lines->blocks->len - 1);
  g_autofree char *trimmed = g_strstrip (g_strdup (text));
  char *equals = strchr (trimmed, '=');

  if (trimmed[0] == '[' && strchr (trimmed, ']') != NULL)
    {
      Block *block;

      *strchr (trimmed, ']') = '\0';
      block = block_new (trimmed + 1, text);
      take_lead (block, last);
      g_ptr_array_add (lines->blocks, block);
    }
  else if (trimmed[0] != '#' && equals != NULL)
    {
      *equals = '\0';
      g_ptr_array_add (last->body, line_new (text, g_strdup (g_strchomp (trimmed))));
    }
  else
    {
      g_ptr_array_add (last->body, line_new (text, NULL));
    }
}

/**
 * bw_lines_new:
 * @text: text that passes bw_design_scan(); may be empty
 *
 * Returns: (transfer full): @text as lines
 */
BwLines *
bw_lines_new (const char *text)
{
  BwLines *lines = g_new (BwLines, 1);
  g_auto (GStrv) texts = g_strsplit (text, "\n", -1);
  guint n = g_strv_length (texts);

  lines->blocks = g_ptr_array_new_with_free_func ((GDestroyNotify) block_free);
  g_ptr_array_add (lines->blocks, block_new (NULL, NULL));

  /* the last line break ends a line and begins none */
  if (n > 0 && texts[n - 1][0] == '\0')
    n--;

  for (guint i = 0; i < n; i++)
    add_line (lines, texts[i]);

  return lines;
}

/**
 * bw_lines_free:
 * @lines: (transfer full): lines
 *
 * Frees @lines.
 */
void
bw_lines_free (BwLines *lines)
{
  g_ptr_array_unref (lines->blocks);
  g_free (lines);
}

/* ---- finding ----------------------------------------------------------- */

static Block *
find_block (const BwLines *lines,
            const char    *group)
{
  for (guint i = 0; i < lines->blocks->len; i++)
    {
      Block *block = g_ptr_array_index (lines->blocks, i);

      if (g_strcmp0 (block->name, group) == 0)
        return block;
    }

  return NULL;
}

/* Place of a key in its block's body; the body's length if it is not there. */
static guint
find_line (const Block *block,
           const char  *key)
{
  guint i;

  for (i = 0; i < block->body->len; i++)
    if (g_strcmp0 (((Line *) g_ptr_array_index (block->body, i))->key, key) == 0)
      break;

  return i;
}

/**
 * bw_lines_has_key:
 * @lines: lines
 * @group: a header, without the brackets
 * @key: a key
 *
 * Returns: whether the group has the key
 */
gboolean
bw_lines_has_key (const BwLines *lines,
                  const char    *group,
                  const char    *key)
{
  const Block *block = find_block (lines, group);

  return block != NULL && find_line (block, key) < block->body->len;
}

/**
 * bw_lines_groups:
 * @lines: lines
 *
 * Returns: (transfer full) (element-type utf8): the headers, in order
 */
GPtrArray *
bw_lines_groups (const BwLines *lines)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 1; i < lines->blocks->len; i++)
    g_ptr_array_add (names, g_strdup (((Block *) g_ptr_array_index (lines->blocks, i))->name));

  return names;
}

/**
 * bw_lines_keys:
 * @lines: lines
 * @group: a header, without the brackets
 *
 * Returns: (transfer full) (element-type utf8): the keys of the group, in
 *   order; none if there is no such group
 */
GPtrArray *
bw_lines_keys (const BwLines *lines,
               const char    *group)
{
  GPtrArray *keys = g_ptr_array_new_with_free_func (g_free);
  const Block *block = find_block (lines, group);

  for (guint i = 0; block != NULL && i < block->body->len; i++)
    {
      const Line *line = g_ptr_array_index (block->body, i);

      if (line->key != NULL)
        g_ptr_array_add (keys, g_strdup (line->key));
    }

  return keys;
}

/* ---- editing ----------------------------------------------------------- */

static Block *
last_block (const BwLines *lines)
{
  return g_ptr_array_index (lines->blocks, lines->blocks->len - 1);
}

static gboolean
ends_blank (const Block *block)
{
  const Line *last;

  if (block->body->len == 0)
    return block->name == NULL;

  last = g_ptr_array_index (block->body, block->body->len - 1);

  return last->text[strspn (last->text, " \t\r")] == '\0';
}

static Block *
append_block (BwLines    *lines,
              const char *group)
{
  g_autofree char *header = g_strdup_printf ("[%s]", group);
  Block *block = block_new (group, header);

  if (!ends_blank (last_block (lines)))
    g_ptr_array_add (last_block (lines)->body, line_new ("", NULL));

  g_ptr_array_add (lines->blocks, block);

  return block;
}

/* Everything up to the value stays as the designer spaced it. */
static void
set_line (Line       *line,
          const char *value)
{
  char *equals = strchr (line->text, '=') + 1;
  gsize before = (gsize) (equals + strspn (equals, " \t") - line->text);
  gboolean crlf = g_str_has_suffix (line->text, "\r");
  char *text = g_strdup_printf ("%.*s%s%s", (int) before, line->text, value, crlf ? "\r" : "");

  g_free (line->text);
  line->text = text;
}

static void
insert_line (Block      *block,
             const char *key,
             const char *value)
{
  g_autofree char *text = g_strdup_printf ("%s=%s", key, value);
  guint place = block->body->len;

  /* after the last key, before the comments and blank lines that follow it */
  while (place > 0 && ((Line *) g_ptr_array_index (block->body, place - 1))->key == NULL)
    place--;

  g_ptr_array_insert (block->body, (int) place, line_new (text, g_strdup (key)));
}

/**
 * bw_lines_set:
 * @lines: lines
 * @group: a header, without the brackets; added at the end if it is not there
 * @key: a key; added after the group's other keys if it is not there
 * @value: its value, escaped as a key file wants it
 *
 * Sets a value.
 */
void
bw_lines_set (BwLines    *lines,
              const char *group,
              const char *key,
              const char *value)
{
  Block *block = find_block (lines, group);
  guint place;

  if (block == NULL)
    block = append_block (lines, group);

  place = find_line (block, key);
  if (place < block->body->len)
    set_line (g_ptr_array_index (block->body, place), value);
  else
    insert_line (block, key, value);
}

/**
 * bw_lines_remove_key:
 * @lines: lines
 * @group: a header, without the brackets
 * @key: a key
 *
 * Removes the key if it is there. Comments stay: they are the designer's.
 */
void
bw_lines_remove_key (BwLines    *lines,
                     const char *group,
                     const char *key)
{
  Block *block = find_block (lines, group);
  guint place = block != NULL ? find_line (block, key) : 0;

  if (block != NULL && place < block->body->len)
    g_ptr_array_remove_index (block->body, place);
}

/**
 * bw_lines_remove_group:
 * @lines: lines
 * @group: a header, without the brackets
 *
 * Removes the group if it is there, with the comments in it and right above it.
 */
void
bw_lines_remove_group (BwLines    *lines,
                       const char *group)
{
  Block *block = find_block (lines, group);

  if (block != NULL)
    g_ptr_array_remove (lines->blocks, block);
}

static gboolean
is_wanted (const GPtrArray *wanted,
           const char      *name)
{
  for (guint i = 0; name != NULL && i < wanted->len; i++)
    if (g_str_equal (g_ptr_array_index (wanted, i), name))
      return TRUE;

  return FALSE;
}

/**
 * bw_lines_order_groups:
 * @lines: lines
 * @wanted: (element-type utf8): headers that are all there, each once
 *
 * Brings the named groups into the given order among each other; they share
 * out the places they had, and all other groups stay where they are.
 */
void
bw_lines_order_groups (BwLines         *lines,
                       const GPtrArray *wanted)
{
  g_autoptr (GPtrArray) ordered = g_ptr_array_new ();
  guint n = 0;

  for (guint i = 0; i < wanted->len; i++)
    g_ptr_array_add (ordered, find_block (lines, g_ptr_array_index (wanted, i)));

  for (guint i = 0; i < lines->blocks->len; i++)
    if (is_wanted (wanted, ((Block *) g_ptr_array_index (lines->blocks, i))->name))
      lines->blocks->pdata[i] = ordered->pdata[n++];

  g_assert (n == wanted->len);
}

/**
 * bw_lines_order_keys:
 * @lines: lines
 * @group: a header, without the brackets; nothing happens if it is not there
 * @wanted: (element-type utf8): keys that are all in the group, each once
 *
 * Brings the named keys into the given order among each other; all other lines
 * stay where they are.
 */
void
bw_lines_order_keys (BwLines         *lines,
                     const char      *group,
                     const GPtrArray *wanted)
{
  Block *block = find_block (lines, group);
  g_autoptr (GPtrArray) ordered = g_ptr_array_new ();
  guint n = 0;

  if (block == NULL)
    return;

  for (guint i = 0; i < wanted->len; i++)
    {
      guint place = find_line (block, g_ptr_array_index (wanted, i));

      g_ptr_array_add (ordered, g_ptr_array_index (block->body, place));
    }

  for (guint i = 0; i < block->body->len; i++)
    if (is_wanted (wanted, ((Line *) g_ptr_array_index (block->body, i))->key))
      block->body->pdata[i] = ordered->pdata[n++];

  g_assert (n == wanted->len);
}

/* ---- writing ----------------------------------------------------------- */

/**
 * bw_lines_to_text:
 * @lines: lines
 * @length: (out) (optional): length of the text in bytes
 *
 * Returns: (transfer full): the lines as one text
 */
char *
bw_lines_to_text (const BwLines *lines,
                  gsize         *length)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < lines->blocks->len; i++)
    {
      const Block *block = g_ptr_array_index (lines->blocks, i);

      for (guint j = 0; j < block->lead->len; j++)
        g_string_append_printf (text, "%s\n", (char *) g_ptr_array_index (block->lead, j));
      if (block->header != NULL)
        g_string_append_printf (text, "%s\n", block->header);
      for (guint j = 0; j < block->body->len; j++)
        g_string_append_printf (text, "%s\n",
                                ((Line *) g_ptr_array_index (block->body, j))->text);
    }

  if (length != NULL)
    *length = text->len;

  return g_string_free (text, FALSE);
}
