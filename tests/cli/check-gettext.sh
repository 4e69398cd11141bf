#!/bin/sh
# Every source with translatable words is listed for extraction, in order; the
# words can be extracted without a warning; every translation is sound. TAP.
# Arguments: top of the source tree, a folder to work in.

cd "$1" || exit 99
work=$2/gettext
mkdir -p "$work"
list=$work/listed
failed=0

# check STATUS TEXT
check ()
{
  if [ "$1" -eq 0 ]
  then
    echo "ok - $2"
  else
    echo "not ok - $2"
    failed=1
  fi
}

echo 1..4

grep -v '^#' data/po/POTFILES >"$list"
LC_ALL=C sort -c "$list" 2>/dev/null
check $? "POTFILES is in alphabetical order"

for source in $(find src ui -name '*.c' -o -name '*.ui' 2>/dev/null | LC_ALL=C sort)
do
  grep -qE '\b(N?_|C_|NC_|g_dngettext) ?\(|translatable="(yes|true)"' "$source" || continue
  grep -qxF "$source" "$list" || echo "$source"
done >"$work/unlisted"
sed 's/^/# not listed: /' "$work/unlisted"
[ ! -s "$work/unlisted" ]
check $? "every source with words is listed"

xgettext --from-code=UTF-8 --keyword=_ --keyword=N_ --keyword=C_:1c,2 --keyword=NC_:1c,2 \
  --keyword=g_dngettext:2,3 --flag=g_dngettext:2:pass-c-format --add-comments=Translators \
  --files-from="$list" -o "$work/all.pot" 2>"$work/complaints" &&
  [ ! -s "$work/complaints" ] && [ "$(grep -c '^msgid' "$work/all.pot")" -gt 50 ]
check $? "words can be extracted"
sed 's/^/# /' "$work/complaints"

bad=0
for language in $(grep -v '^#' data/po/LINGUAS)
do
  msgfmt --check -o /dev/null "data/po/$language.po" 2>&1 | sed 's/^/# /'
  msgfmt --check -o /dev/null "data/po/$language.po" 2>/dev/null || bad=1
done
check $bad "translations are sound"
exit 0
