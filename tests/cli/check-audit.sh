#!/bin/sh
# Every demo design, written in both terms, for all sizes and for one, goes through
# the audit without an error or a warning; prints TAP.
# Arguments: the source folder, the command, a folder to work in.

top=$1
cli=$2
work=$3/audit
rm -rf "$work"
mkdir -p "$work"
"$cli" library demo --library "$work/library.db" >/dev/null || exit 1

n=0
audit ()
{
  n=$((n + 1))
  if ! "$cli" write "$@" --library "$work/library.db" >"$work/pattern.txt" 2>"$work/complaints"
  then
    echo "not ok $n - written: $*"
    sed 's/^/# /' "$work/complaints"
  elif "$cli" audit "$work/pattern.txt" >"$work/found.txt" 2>&1
  then
    echo "ok $n - $*"
  else
    echo "not ok $n - $*"
    sed 's/^/# /' "$work/found.txt"
  fi
}

for file in "$top"/data/designs/*.hat "$top"/data/demo/*.hat
do
  for terms in uk us
  do
    audit "$file" --terms $terms
    audit "$file" --terms $terms --units in
  done
  size=$("$cli" grade "$file" --csv sizes --library "$work/library.db" |
           sed -n '2s/^"\{0,1\}\([^",]*\).*/\1/p')
  audit "$file" --size "$size" --full
done
echo "1..$n"
