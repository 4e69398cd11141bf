#pragma once

/* First of all includes of a file with words: binds _() to our own domain. */
#include "config.h"

#define GETTEXT_PACKAGE BW_GETTEXT_DOMAIN
#include <glib/gi18n-lib.h>
