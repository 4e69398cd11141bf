#!/bin/sh
# Pages as tidy and a browser see them: no warnings, no scrolling sideways on a
# telephone of 360 px, and a size that is chosen alone is seen. TAP.
# Arguments: the program, the folder of designs, that of the tests' designs, a
# folder to work in. The pictures stay there, in screenshots/: look at them.

cli=$1
designs=$2
large=$3/large.hat
work=$4/browser
shots=$4/screenshots
rm -rf "$work"
mkdir -p "$work" "$shots"
cd "$work" || exit 99
SOURCE_DATE_EPOCH=1772323200
export SOURCE_DATE_EPOCH

n=0
# tell STATUS TEXT
tell ()
{
  n=$((n + 1))
  if [ "$1" -eq 0 ]
  then
    echo "ok $n - $2"
  else
    echo "not ok $n - $2"
  fi
}

# A title as long as one may be, and one that runs from right to left
long=$(printf '%200s' | sed 's/ /ab c/g' | cut -c 1-200)
sed "s/^name=Fleet\$/name=$long/" "$large" >long.hat
sed 's/^name=Lugger$/name=סירת מפרש עם פונפון/' "$designs/lugger.hat" >right-to-left.hat

"$cli" write "$designs/lugger.hat" --to all.html >/dev/null &&
"$cli" write "$designs/lugger.hat" --to one.html --size adult-m --full >/dev/null &&
"$cli" write "$designs/smack.hat" --to large-print.html --large-print >/dev/null &&
"$cli" write "$designs/smack.hat" --to low-ink.html --low-ink --terms us >/dev/null &&
"$cli" write "$designs/lugger.hat" --to sheet.html --as sheet-html --size child >/dev/null &&
"$cli" write right-to-left.hat --to right-to-left.html >/dev/null &&
"$cli" write long.hat --to long.html >/dev/null
tell $? 'the pages are written'
pages='all one large-print low-ink sheet right-to-left long'

if command -v tidy >/dev/null
then
  for page in $pages
  do
    tidy -quiet -errors -utf8 "$page.html" >"$page.tidy" 2>&1
    [ ! -s "$page.tidy" ]
    tell $? "tidy has nothing to say about $page.html"
    sed 's/^/# /' "$page.tidy" | head -n 10
  done
else
  n=$((n + 1))
  echo "ok $n # SKIP tidy is not installed"
fi

if ! command -v chromium >/dev/null
then
  n=$((n + 1))
  echo "ok $n # SKIP chromium is not installed"
  echo "1..$n"
  exit 0
fi

# chromium ARGUMENT...: with nothing of this machine's, and nothing fetched
browse ()
{
  timeout 120 chromium --headless --no-sandbox --disable-gpu --hide-scrollbars \
    --disable-background-networking --disable-dev-shm-usage --no-first-run \
    --user-data-dir="$work/profile" "$@" 2>browser.log
}

# A window is never narrower than 500 px, so that the telephone is a frame in one.
# Each frame tells how wide it is and how wide what it holds; with a size chosen,
# also whether a list of numbers, an other size's picture or line is still seen.
report='<script>onload=function(){
var chosen=document.getElementById("size-2"),seen=function(e){return e.getClientRects().length>0};
var before=[].filter.call(document.querySelectorAll(".s"),seen).length;
var wide=document.documentElement.scrollWidth;
if(chosen)chosen.click();
var others=[].filter.call(document.querySelectorAll(".s:not(.s2),.r:not(.w2),.p,.only"),seen).length;
var own=[].filter.call(document.querySelectorAll(".s2"),seen).length;
parent.postMessage([location.hash,innerWidth,wide,before,others,own].join(" "),"*")}</script></body>'

for page in $pages
do
  awk -v report="$report" '{ if ($0 == "</body>") print report; else print }' "$page.html" >"$page-frame.html"
done
{
  echo '<!DOCTYPE html><title>frames</title><body><script>onmessage=function(e){'
  echo 'var p=document.createElement("p");p.textContent="FRAME "+e.data;document.body.append(p)}</script>'
  for page in $pages
  do
    for width in 360 1280
    do
      echo "<iframe src=\"$page-frame.html#$page-$width\" style=\"width:${width}px;height:600px;border:0\"></iframe>"
    done
  done
  echo '</body>'
} >frames.html
browse --window-size=1400,900 --virtual-time-budget=20000 --dump-dom "file://$work/frames.html" |
  grep -o 'FRAME #[^<]*' | sort >frames.txt

for page in $pages
do
  for width in 360 1280
  do
    grep -q "^FRAME #$page-$width $width $width " frames.txt
    tell $? "$page.html does not scroll sideways at $width px"
  done
done
sed 's/^/# /' frames.txt

# before: numbers of all sizes; then no other size's, and the chosen one's
for page in all low-ink right-to-left long
do
  awk -v name="#$page-360" '
    $2 == name { found = $5 > 50 && $6 == 0 && $7 > 10 } END { exit !found }' frames.txt
  tell $? "$page.html shows one size when it is chosen, all before"
done

for page in all large-print long right-to-left sheet
do
  echo "<!DOCTYPE html><body style=\"margin:0;background:#ccc\"><iframe src=\"$page.html\" style=\"width:360px;height:2400px;border:0\"></iframe></body>" >frame.html
  browse --window-size=500,2400 --screenshot="$shots/$page-360.png" "file://$work/frame.html" >/dev/null
  browse --window-size=1280,2400 --screenshot="$shots/$page-1280.png" "file://$work/$page.html" >/dev/null
  [ -s "$shots/$page-360.png" ] && [ -s "$shots/$page-1280.png" ]
  tell $? "$page.html is kept as pictures in $shots"
done

echo "1..$n"
