#!/bin/sh
# Installs what is missing, builds with every warning an error, and runs every
# test: all suites with gcc, a build with clang, the fast suites again under
# the sanitizers. The last line says how many checks passed and failed.

set -eu

cd "$(dirname "$0")/.."
. data/packages.sh

passed=0
failed=0

# count_one STATUS TEXT: one check that is not a Meson test
count_one ()
{
  if [ "$1" -eq 0 ]
  then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    say "FAILED: $2"
  fi
}

# sum ATTRIBUTE FILE: adds an attribute up over the suites of a JUnit report
sum ()
{
  grep -o "<testsuite [^>]*" "$2" | sed -n "s/.* $1=\"\([0-9]*\)\".*/\1/p" |
    awk '{ total += $1 } END { print total + 0 }'
}

# count_tests DIR ARGUMENT...: runs Meson tests and adds their cases up
count_tests ()
{
  dir=$1
  shift
  report=$dir/meson-logs/testlog.junit.xml
  status=0

  rm -f "$report"
  say "Testing $dir"
  # The window's tests want a display and a bus of their own, and get both
  xvfb-run -a dbus-run-session -- \
    meson test -C "$dir" --no-rebuild --timeout-multiplier 10 --print-errorlogs "$@" >"$dir/test.log" 2>&1 || status=$?
  if [ "$status" -ne 0 ]
  then
    cat "$dir/test.log" >&2
  fi

  bad=0
  if [ -f "$report" ]
  then
    bad=$(($(sum failures "$report") + $(sum errors "$report")))
    passed=$((passed + $(sum tests "$report") - bad - $(sum skipped "$report")))
  fi
  # A run that failed without a case to show for it (a crash, no tests) counts
  [ "$status" -eq 0 ] || [ "$bad" -gt 0 ] || bad=1
  failed=$((failed + bad))
}

# strict DIR: a folder that start.sh set up does not have warnings as errors yet
strict ()
{
  grep -q '^werror = true' "$1/meson-private/cmd_line.txt" || meson configure "$1" -Dwerror=true
}

packages_need build tests

status=0
{ configure build -Dwerror=true && strict build && build build; } || status=$?
count_one $status "the build with gcc"
[ $status -ne 0 ] || count_tests build

status=0
{ CC=clang configure build/clang -Dwerror=true && build build/clang; } || status=$?
count_one $status "the build with clang, warnings as errors"

# fuzz TARGET FOLDER...: the fuzzer on one target for a moment, from its corpus on
fuzz ()
{
  target=$1
  shift
  status=0
  work=$(mktemp -d)
  say "Fuzzing $target"
  build/clang/tests/fuzz/fuzz-"$target" -runs=20000 -max_len=1024 -max_total_time=20 -seed=1 \
    -artifact_prefix="$work/" "$work" "$@" >build/clang/fuzz-"$target".log 2>&1 || status=$?
  [ "$status" -eq 0 ] || tail -n 40 build/clang/fuzz-"$target".log >&2
  rm -rf "$work"
  count_one $status "fuzzing $target"
}

if [ $status -eq 0 ]
then
  ninja -C build/clang tests/fuzz/fuzz-csv tests/fuzz/fuzz-design tests/fuzz/fuzz-pattern \
    >build/clang/build-fuzz.log 2>&1 || { status=$?; cat build/clang/build-fuzz.log >&2; }
  count_one $status "the build of the fuzzers"
fi
if [ $status -eq 0 ]
then
  fuzz csv tests/fuzz/corpus-csv
  fuzz design tests/fuzz/corpus-design data/designs
  fuzz pattern tests/fuzz/corpus-pattern
fi

status=0
{ configure build/sanitize -Dwerror=true -Db_sanitize=address,undefined -Db_lundef=false &&
    build build/sanitize; } || status=$?
count_one $status "the build with the sanitizers"
if [ $status -eq 0 ]
then
  UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
  ASAN_OPTIONS=detect_leaks=1:strict_string_checks=1
  BW_LIBRARY_KILLS=40 # the 300 are killed above, where a child starts sooner
  export UBSAN_OPTIONS ASAN_OPTIONS BW_LIBRARY_KILLS
  count_tests build/sanitize --suite core --suite cli --suite library --suite publish

  # The window, but for what takes minutes here: pictures and the bus. Leaks of the
  # libraries below are told apart by their functions, for which stacks must be whole
  ASAN_OPTIONS=$ASAN_OPTIONS:fast_unwind_on_malloc=0
  GDK_DEBUG=gl-disable # a driver leaks
  export ASAN_OPTIONS GDK_DEBUG
  count_tests build/sanitize --suite app --no-suite bus --no-suite pictures
fi

say
printf '%d passed, %d failed\n' "$passed" "$failed"
[ "$failed" -eq 0 ]
