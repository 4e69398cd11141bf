#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Cuts written crochet into tokens. Nothing is copied: a token points into the
 * text, which must stay. Typographic marks are read as their plain forms. */

typedef enum
{
  BW_TOKEN_END,
  BW_TOKEN_WORD,    /* letters, digits after letters, inner hyphens: "dc2tog", "ch-sp" */
  BW_TOKEN_NUMBER,  /* digits */
  BW_TOKEN_ORDINAL, /* digits and st, nd, rd or th: "2nd" */
  BW_TOKEN_MARK,    /* one mark: , ; . : [ ] ( ) { } * x - */
} BwTokenKind;

typedef struct
{
  BwTokenKind kind;
  const char *start;
  gsize       length; /* bytes */
  guint       column; /* in characters, from 1 */
  guint       number; /* NUMBER and ORDINAL; G_MAXUINT when too large to matter */
  char        mark;   /* MARK */
} BwToken;

typedef struct
{
  const char *at;
  const char *end;
  guint       column;
} BwLexer;

void     bw_lexer_init    (BwLexer       *lexer,
                           const char    *text,
                           gsize          length);
void     bw_lexer_next    (BwLexer       *lexer,
                           BwToken       *token);
gboolean bw_token_is_word (const BwToken *token,
                           const char    *word);
gboolean bw_token_is_mark (const BwToken *token,
                           char           mark);

G_END_DECLS
