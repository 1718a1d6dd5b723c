#!/usr/bin/env bash
# Stops every command that writes at random moments, fills the disk, and lets calls that change it fail (tests/interrupts/): outside CI, for it takes long.
#   tests/interrupts.sh [--kills N] [--interrupts N] [--seed S] [--minutes M] [--stops-only]
# Exit code 0: nothing lost; 1: something; 77: not run, and the last line says why.
set -euo pipefail
cd "$(dirname "$0")/.."
[ "$(uname)" = Linux ] || { echo "77: the disk is filled and calls fail on Linux only"; exit 77; }
tool=$PWD/src/Outcomes.Cli/bin/Release/net10.0/outcomes.dll
[ -n "${OUTCOMES_TOOL:-}" ] && tool=$OUTCOMES_TOOL
[ -f "$tool" ] || dotnet build -c Release src/Outcomes.Cli -v q
stops_only=
arguments=()
for argument in "$@"; do
  if [ "$argument" = --stops-only ]; then stops_only=yes; else arguments+=("$argument"); fi
done
cd tests/interrupts
python3 -B stops.py "$tool" ${arguments[@]+"${arguments[@]}"}
[ -n "$stops_only" ] && exit 0
if [ "$(id -u)" = 0 ]; then python3 -B full.py "$tool" space; else echo "disk full: not tried, for a tmpfs needs the right to mount"; fi
library=$(mktemp --suffix=.so)
trap 'rm -f "$library"' EXIT
if cc -shared -fPIC -O2 -o "$library" failonce.c -ldl; then python3 -B full.py "$tool" calls "$library"
else echo "failing calls: not tried, for there is no C compiler"; fi
