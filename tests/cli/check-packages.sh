#!/bin/sh
# What the two scripts do about Debian packages, tried out against stand-ins for
# dpkg-query, apt-get, sudo and id, so that nothing is installed. TAP.
# Arguments: top of the source tree, a folder to work in.

top=$1
work=$2/packages
rm -rf "$work"
mkdir -p "$work/bin" "$work/data"
cd "$work" || exit 99

cat >data/debian-packages.txt <<'LIST'
# a comment
[build]
alpha      # why
beta
[tests]
gamma
LIST

# stand_in NAME: makes a command of the script on the standard input
stand_in ()
{
  { echo '#!/bin/sh'; cat; } >"bin/$1"
  chmod +x "bin/$1"
}

# Tools that are really needed, so that nothing else of the machine is found
for tool in awk sed grep tr cat sh env mkdir
do
  ln -sf "$(command -v $tool)" bin/$tool
done
stand_in dpkg-query <<'E1'
for name
do
  [ -f "installed/$name" ] && echo "$name installed"
done
exit 1
E1
stand_in apt-get <<'E1'
echo "apt-get $*" >>log
[ -f offline ] && exit 100
case $* in
  *install*) for name; do case $name in alpha|beta|gamma) : >"installed/$name" ;; esac; done ;;
esac
exit 0
E1
stand_in id <<'E1'
cat uid
E1

# start_over UID INSTALLED...
start_over ()
{
  rm -rf installed log offline bin/sudo
  mkdir installed
  echo "$1" >uid
  shift
  for name
  do
    : >"installed/$name"
  done
}

# need SECTION...: runs the function as the scripts do
need ()
{
  PATH=$work/bin sh -eu -c '. "$0"; packages_need "$@"; echo went on' \
    "$top/data/packages.sh" "$@" >out 2>err </dev/null
}

# check TEXT: the status of the command before it
check ()
{
  if [ $? -eq 0 ]
  then
    echo "ok - $1"
  else
    echo "not ok - $1"
    sed 's/^/# /' err out
  fi
}

echo 1..8

start_over 0 alpha beta
need build && grep -q 'went on' out && [ ! -f log ] && [ ! -s err ]
check "nothing missing: apt is not called and nothing is said"

start_over 0 alpha
need build && grep -q 'install beta$' log && ! grep -q gamma log && grep -q 'Installing.*beta' err
check "root: the missing package of the section is named and installed"

start_over 0
need build tests && [ -f installed/alpha ] && [ -f installed/gamma ] && need build tests &&
  [ "$(grep -c install log)" -eq 1 ]
check "a second run finds all there"

start_over 0
: >offline
! need build && grep -q 'without a network' err && ! grep -q 'went on' out
check "no network: stops and says so"

start_over 1000
! need build && grep -q 'no right to install' err && grep -q 'apt-get install alpha beta' err &&
  [ ! -f log ]
check "no right: stops and says what to ask for"

start_over 1000
stand_in sudo <<'E1'
echo "sudo $*" >>log
[ "$1" = -n ] && shift
exec "$@"
E1
need build && grep -q '^sudo -n env .*apt-get' log && [ -f installed/beta ]
check "sudo: packages are installed through it"

start_over 1000
stand_in sudo <<'E1'
echo "sudo: a password is required" >&2
exit 1
E1
! need build && grep -q 'without the right' err
check "sudo refuses: stops and says so"

start_over 0
BRIMWRIGHT_NO_INSTALL=1 need build && grep -q 'going on without' err && [ ! -f log ]
check "installing can be declined"
