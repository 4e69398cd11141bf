#!/bin/sh
# What the README shows is what the program prints, and its example can be
# graded. TAP. Arguments: top of the source tree, the program, a folder to work in.
#
# A block after "<!-- output of: ARGUMENTS -->" must be found in the output of
# the program, line by line and in order; a line "..." leaves lines out, and
# only it does. After "<!-- design -->" stands a design.

cd "$1" || exit 99
cli=$2
work=$3/readme
mkdir -p "$work"

# block MARK: the fenced block that follows the line MARK
block ()
{
  awk -v mark="$1" '
    index ($0, mark) == 1 { wanted = 1; next }
    wanted && /^```/ { if (inside) exit; inside = 1; next }
    inside { print }' README.md
}

echo 1..2

arguments=$(sed -n 's/^<!-- output of: \(.*\) -->$/\1/p' README.md)
"$cli" $arguments >"$work/printed"
block '<!-- output of:' >"$work/shown"
if awk -v shown="$work/shown" '
     BEGIN { while ((getline line < shown) > 0) want[++n] = line; i = 1; skip = 1 }
     i <= n && want[i] == "..." { skip = 1; i++ }
     i <= n && $0 == want[i] { i++; skip = 0; next }
     i <= n && !skip { exit }
     END { while (i <= n && want[i] == "...") i++
           if (n < 10 || i <= n) { print "# not printed here: " want[i]; exit 1 } }' \
     "$work/printed"
then
  echo 'ok - the excerpt is what is printed'
else
  echo 'not ok - the excerpt is what is printed'
fi

block '<!-- design -->' >"$work/first.hat"
if complaints=$("$cli" grade "$work/first.hat" 2>&1 >"$work/graded") &&
   grep -q '^Rounds of ' "$work/graded" && ! grep -q '  Warning' "$work/graded"
then
  echo 'ok - the first hat can be graded'
else
  echo 'not ok - the first hat can be graded'
  printf '%s\n' "$complaints" | sed 's/^/# /'
fi
