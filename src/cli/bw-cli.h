#pragma once

#include "bw-words.h"

G_BEGIN_DECLS

/* The command line is a list of verbs, one file each. A verb reads its own
 * arguments and appends what it has to say to `out`; main() writes that to the
 * standard output in one go, so that nothing is written by halves. Complaints
 * go to the standard error output through bw_cli_complain().
 */

/* Exit statuses; part of the interface, see brimwright-cli(1). */
typedef enum
{
  BW_EXIT_GRADED = 0,
  BW_EXIT_REFUSED = 1,   /* the design cannot be graded, or the pattern has faults; they were given */
  BW_EXIT_BAD_INPUT = 2, /* an option, a file or a design is wrong; one message was given */
} BwExit;

typedef struct
{
  const char *name;
  BwExit    (*run) (char    **arguments, /* the verb's name first; may be taken from */
                    GString  *out);
  const char *help; /* a page of its own; NULL = it is on the program's */
} BwVerb;

extern const BwVerb bw_cli_verb_audit;
extern const BwVerb bw_cli_verb_explain;
extern const BwVerb bw_cli_verb_write;
extern const BwVerb bw_cli_verb_grade;
extern const BwVerb bw_cli_verb_tested;
extern const BwVerb bw_cli_verb_publish;
extern const BwVerb bw_cli_verb_library;
extern const BwVerb bw_cli_verb_swatch;

void       bw_cli_complain     (const char     *format,
                                ...) G_GNUC_PRINTF (1, 2);

/* --- Input (bw-cli-input.c) --- */

/* What verbs that grade a design have in common. */
typedef struct
{
  char *file;
  char *size;       /* NULL = not said */
  char *terms;
  char *units;
  char *library;    /* where swatches are taken from; NULL = the usual place */
} BwCliInput;

/* A graded design and what it was looked up in. */
typedef struct
{
  BwReference *reference;
  BwGrading   *grading;
} BwCliGrading;

#define BW_CLI_INPUT_OPTIONS(input) \
  { "size", 0, 0, G_OPTION_ARG_FILENAME, &(input)->size, NULL, NULL }, \
  { "terms", 0, 0, G_OPTION_ARG_FILENAME, &(input)->terms, NULL, NULL }, \
  { "units", 0, 0, G_OPTION_ARG_FILENAME, &(input)->units, NULL, NULL }, \
  { "library", 0, 0, G_OPTION_ARG_FILENAME, &(input)->library, NULL, NULL }

gboolean   bw_cli_parse        (const GOptionEntry *entries,
                                char              **arguments,
                                char              **file);
char      *bw_cli_read_file    (const char         *path,
                                gsize               most,
                                gsize              *length) G_GNUC_WARN_UNUSED_RESULT;
BwExit     bw_cli_grade        (const BwCliInput   *input,
                                BwCliGrading       *graded);
void       bw_cli_refusal      (const char         *name,
                                const BwGrading    *grading);
void       bw_cli_take_size_tables (BwReference    *reference,
                                const char         *library);
gboolean   bw_cli_take_gauges  (BwDesign           *design,
                                const char         *library);
gboolean   bw_cli_find_size    (const BwGrading    *grading,
                                const char         *name,
                                guint              *k);
void       bw_cli_input_clear  (BwCliInput         *input);
void       bw_cli_grading_clear (BwCliGrading      *graded);

/* --- Output --- */

void       bw_cli_text_wrap    (GString            *out,
                                const char         *text,
                                guint               first_indent,
                                guint               indent);
void       bw_cli_text_summary (GString            *out,
                                const BwGrading    *grading);
void       bw_cli_text_rounds  (GString            *out,
                                const BwGrading    *grading,
                                guint               k);
void       bw_cli_text_findings (GString           *out,
                                const BwGrading    *grading);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BwCliInput, bw_cli_input_clear)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BwCliGrading, bw_cli_grading_clear)

G_END_DECLS
