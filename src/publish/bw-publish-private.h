#pragma once

/* First of all includes of a file of this folder that has words for people:
 * binds _() to our domain. */
#include "config.h"

#define GETTEXT_PACKAGE BW_GETTEXT_DOMAIN
#include <glib/gi18n-lib.h>
