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
# The exit status says what came of it.
status ()
{
  wanted=$1
  n=$((n + 1))
  shift
  "$cli" audit "$@" >"$work/found.txt" 2>"$work/complaints"
  got=$?
  if [ $got -eq "$wanted" ]
  then
    echo "ok $n - audit $* exits with $wanted"
  else
    echo "not ok $n - audit $* exits with $got, not $wanted"
  fi
}

rounds='Ch 18, join.
Rnd 1: dc in each ch around (18 sts)'
printf 'UK terms\n%s\nRnd 2: [dc, dc2tog] 6 times (12 sts)\n' "$rounds" >"$work/clean.txt"
printf 'UK terms\n%s\nRnd 2: [dc, dc2tog] 6 times (13 sts)\n' "$rounds" >"$work/faulty.txt"
printf '%s\n' "$rounds" >"$work/unsaid.txt"
printf 'A hat for a windy day.\n' >"$work/prose.txt"
status 0 "$work/clean.txt"
status 1 "$work/faulty.txt"
status 1 --csv "$work/faulty.txt"
n=$((n + 1))
if [ "$(sed -n 2p "$work/found.txt" | cut -d, -f1-7,8)" = 'B02,error,4,30,88,2,,Rnd 2' ] &&
   sed -n 2p "$work/found.txt" | grep -q ',13,12'
then
  echo "ok $n - the table has place, round and suggestion"
else
  echo "not ok $n - the table has place, round and suggestion"
  sed 's/^/# /' "$work/found.txt"
fi
status 2 "$work/unsaid.txt"
status 1 --terms uk "$work/unsaid.txt"
status 2 "$work/prose.txt"
status 2 "$work/no such file"
status 2 --terms fr "$work/clean.txt"
echo "1..$n"
