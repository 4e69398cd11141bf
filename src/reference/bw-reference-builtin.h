#pragma once

#include "bw-reference.h"

G_BEGIN_DECLS

BwReference *bw_reference_builtin (GError **error) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
