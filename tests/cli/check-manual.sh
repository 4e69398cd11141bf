#!/bin/sh
# Sets every manual page with warnings on; prints TAP.
# Arguments: the pages.

printf '1..%d\n' $#
for page in "$@"
do
  complaints=$(man --warnings -E UTF-8 -l -Tutf8 -Z "$page" 2>&1 >/dev/null)
  status=$?
  if [ $status -eq 0 ] && [ -z "$complaints" ]
  then
    echo "ok - $(basename "$page")"
  else
    echo "not ok - $(basename "$page")"
    printf '%s\n' "$complaints" | sed 's/^/# /'
  fi
done
