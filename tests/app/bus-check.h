#pragma once

#include "bus.h"

/* What the window must show, asked of others: of the command line, which works
 * on the same library by itself, and of the database. */

void  check_pattern  (Bus        *bus,
                      const char *design);
void  check_numbers  (Bus        *bus,
                      const char *design);
void  check_rounds   (Bus        *bus,
                      const char *design);
void  check_all      (Bus        *bus,
                      const char *design);
void  check_database (Bus        *bus,
                      const char *sql,
                      const char *expected);
char *query          (Bus        *bus,
                      const char *sql);
char *shown_pattern  (Bus        *bus);
char *stored_design  (Bus        *bus,
                      const char *design);
void  choose_design  (Bus        *bus,
                      const char *name);
