#pragma once

/* First of all includes of a file of this folder: binds _() to our domain. */
#include "config.h"

#define GETTEXT_PACKAGE BW_GETTEXT_DOMAIN
#include <glib/gi18n-lib.h>

#include "bw-words.h"

/* --- Shared by the words for findings --- */

char       *bw_words_finding_counts (const BwFinding *finding) G_GNUC_WARN_UNUSED_RESULT;
const char *bw_words_finding_why    (BwFindingKind    kind);
