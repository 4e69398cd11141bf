# Shared by data/start.sh and tests/run.sh, which source it from the top of the
# tree: installs what is missing, configures and builds.

packages_list=data/debian-packages.txt

# say TEXT...: one plain sentence to the person at the terminal
say ()
{
  printf '%s\n' "$*" >&2
}

# packages_in SECTION...: the names listed in those sections, one a line
packages_in ()
{
  awk -v wanted=" $* " '
    { sub (/#.*/, ""); gsub (/[ \t\r]/, "") }
    /^\[/ { inside = index (wanted, " " substr ($0, 2, length ($0) - 2) " ") > 0; next }
    inside && $0 != "" { print }' "$packages_list"
}

# packages_missing SECTION...: those of them that are not installed
packages_missing ()
{
  # dpkg-query complains about names it has never seen; those are missing too
  installed=$(dpkg-query -W -f '${Package} ${db:Status-Status}\n' $(packages_in "$@") 2>/dev/null |
              sed -n 's/ installed$//p')
  for package in $(packages_in "$@")
  do
    printf '%s\n' "$installed" | grep -qxF "$package" || printf '%s\n' "$package"
  done
}

# as_root COMMAND...: runs it as root, through sudo where that is needed
as_root ()
{
  if [ "$(id -u)" -eq 0 ]
  then
    "$@"
  elif [ -t 0 ]
  then
    sudo "$@"
  else
    sudo -n "$@"
  fi
}

# packages_need SECTION...: installs what is missing of those sections, or says
# why it cannot and ends the script
packages_need ()
{
  if ! command -v dpkg-query >/dev/null 2>&1
  then
    say "This is not a Debian system. Install what $packages_list names and run the script with" \
        "BRIMWRIGHT_NO_INSTALL=1."
    [ -n "${BRIMWRIGHT_NO_INSTALL:-}" ] || exit 1
    return 0
  fi

  missing=$(packages_missing "$@" | tr '\n' ' ')
  [ -n "$missing" ] || return 0
  if [ -n "${BRIMWRIGHT_NO_INSTALL:-}" ]
  then
    say "Not installed, going on without: $missing"
    return 0
  fi

  if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null 2>&1
  then
    say "These Debian packages are missing and you have no right to install them:"
    say "  $missing"
    say "Ask an administrator to run: apt-get install $missing"
    exit 1
  fi

  say "Installing Debian packages: $missing"
  # An update that fails is not the end: the lists on disk may be good enough.
  as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq update >&2 || true
  if ! as_root env DEBIAN_FRONTEND=noninteractive \
         apt-get -qq -y --no-install-recommends install $missing >&2
  then
    say "The packages could not be installed: without a network, or without the right to" \
        "install, this script cannot go on. Missing: $missing"
    exit 1
  fi
}

# quietly LOG COMMAND...: runs it, shows its output only when it fails
quietly ()
{
  log=$1
  shift
  "$@" >"$log" 2>&1 && return 0
  status=$?
  cat "$log" >&2
  return $status
}

# configure DIR OPTION...: sets a build folder up, once
configure ()
{
  dir=$1
  shift
  [ -f "$dir/build.ninja" ] && return 0
  mkdir -p "$dir"
  say "Configuring $dir"
  quietly "$dir/configure.log" meson setup "$@" "$dir"
}

# build DIR TARGET...: builds the targets, all of them when none is named
build ()
{
  dir=$1
  shift
  say "Building $dir"
  quietly "$dir/build.log" ninja -C "$dir" "$@"
}
