#pragma once

#include <glib.h>

/* What every fuzz target defines. Built with clang's fuzzer it is fed by that;
 * built plainly, run-corpus.c feeds it files, and every prefix of them. */

int LLVMFuzzerTestOneInput (const guint8 *data,
                            gsize         size);
