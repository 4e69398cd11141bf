#pragma once

#include <sqlite3.h>

#include "bw-library.h"

G_BEGIN_DECLS

#define BW_LIBRARY_APPLICATION_ID 0x42574c62 /* "BWLb" */
#define BW_LIBRARY_BUSY_MS        5000

struct _BwLibrary
{
  char       *path;
  sqlite3    *db;
  GHashTable *statements;    /* SQL text (owned) to sqlite3_stmt, prepared once */
  char       *migrated_from; /* backup made before a migration; NULL = none was needed */
  gboolean    read_only;
};

/* What a step of a statement gave. */
typedef enum
{
  BW_STEP_FAILED,
  BW_STEP_ROW,
  BW_STEP_DONE,
} BwStep;

void          bw_library_set_error   (GError      **error,
                                      sqlite3      *db,
                                      int           rc,
                                      const char   *path);

/* Plain SQL, for pragmas and migrations. */
gboolean      bw_sql_run             (BwLibrary    *library,
                                      const char   *sql,
                                      GError      **error);

/* Prepared statements. Kinds in @types: i int, l gint64, d double, s string or
 * NULL, b bytes (pointer, gsize), n NULL. A statement belongs to the library
 * and is reset when it has been stepped to its end, or by bw_sql_done(). */
sqlite3_stmt *bw_sql_prepare         (BwLibrary    *library,
                                      const char   *sql,
                                      GError      **error);
sqlite3_stmt *bw_sql_start           (BwLibrary    *library,
                                      GError      **error,
                                      const char   *sql,
                                      const char   *types,
                                      ...);
BwStep        bw_sql_step            (BwLibrary    *library,
                                      sqlite3_stmt *statement,
                                      GError      **error);
gboolean      bw_sql_finish          (BwLibrary    *library,
                                      sqlite3_stmt *statement,
                                      GError      **error);
void          bw_sql_done            (sqlite3_stmt *statement);
gboolean      bw_sql_do              (BwLibrary    *library,
                                      GError      **error,
                                      const char   *sql,
                                      const char   *types,
                                      ...);
gboolean      bw_sql_get_int         (BwLibrary    *library,
                                      gint64       *value,
                                      GError      **error,
                                      const char   *sql,
                                      const char   *types,
                                      ...);
char         *bw_sql_dup_text        (sqlite3_stmt *statement,
                                      int           column);

gboolean      bw_library_begin       (BwLibrary    *library,
                                      GError      **error);
gboolean      bw_library_begin_read  (BwLibrary    *library,
                                      GError      **error);
gboolean      bw_library_end         (BwLibrary    *library,
                                      gboolean      ok,
                                      GError      **error);
gint64        bw_library_now         (void);

/* bw-library-exchange.c: every table that is exchanged, NULL-terminated, in the
 * order in which rows of them can be added */
extern const char *const bw_library_table_names[];

/* bw-library-migrate.c */
gboolean      bw_library_create_file (const char   *path,
                                      guint         version,
                                      GError      **error);
gboolean      bw_library_migrate     (BwLibrary    *library,
                                      gboolean      keep,
                                      guint         to,
                                      GError      **error);

/* bw-library-backup.c */
gboolean      bw_library_copy        (sqlite3      *to,
                                      sqlite3      *from,
                                      const char   *path,
                                      GError      **error);
gboolean      bw_library_copy_to_file (sqlite3     *from,
                                      const char   *path,
                                      GError      **error);
gboolean      bw_library_put_in_place (const char  *temporary,
                                      const char   *path,
                                      GError      **error);
char         *bw_library_free_name   (const char   *path,
                                      const char   *suffix);

/* bw-library.c */
BwLibrary    *bw_library_connect     (const char   *name,
                                      int           flags,
                                      GError      **error);
gboolean      bw_library_look_at     (const char   *path,
                                      guint        *version,
                                      GError      **error);

G_END_DECLS
