#!/bin/sh
# Installs what is missing, builds, and does the main job: opens the window
# where there is a display, grades a demo family on the terminal where not.
#
#   sh data/start.sh             the demo
#   sh data/start.sh FILE.hat    a design of your own

set -eu

# A design is named from where the person stands
design=
if [ $# -gt 0 ]
then
  case $1 in
    /*) design=$1 ;;
    *)  design=$PWD/$1 ;;
  esac
fi

cd "$(dirname "$0")/.."
. data/packages.sh

packages_need build
configure build

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ] && grep -q '^build src/brimwright:' build/build.ninja
then
  build build
  exec build/src/brimwright ${design:+"$design"}
fi

build build src/cli/brimwright-cli
exec build/src/cli/brimwright-cli grade "${design:-data/designs/lugger.hat}"
