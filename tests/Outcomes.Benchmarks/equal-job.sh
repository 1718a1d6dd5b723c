#!/usr/bin/env bash
# Processor time (user and system) of pipelines/baseline.yaml on 50,000 rows without charts, from an empty record store, over that of the hand-written
# pass of tests/Outcomes.Yardstick on the same file: medians of 3, taken in turn, so that a busy machine falls on both alike. The rows are those of
# synthetic-data/baseline-500.csv again and again under keys of their own. Needs both built (dotnet build -c Release).
#   equal-job.sh [BOUND]
# The last line says the ratio. Exit code 0: at or under the bound; 1: above it; 2: something did not run.
set -euo pipefail
# Twice what was measured when it was set (16.4, 17.5 and 19.7 on 2 busy cores, 2026-11-30): it catches a program that became twice as slow,
# not one that became a tenth slower.
bound=${1:-40} rows=50000
root=$(cd "$(dirname "$0")/../.." && pwd)
tool=$root/src/Outcomes.Cli/bin/Release/net10.0/outcomes.dll
yardstick=$root/tests/Outcomes.Yardstick/bin/Release/net10.0/Outcomes.Yardstick.dll
for built in "$tool" "$yardstick"; do [ -f "$built" ] || { echo "equal job: $built is not built" >&2; exit 2; }; done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp -r "$root/pipelines" "$work/pipelines"
dotnet "$yardstick" rows "$root/synthetic-data/baseline-500.csv" "$rows" "$work/rows.csv"

TIMEFORMAT='%U %S'
timed() { # NAME COMMAND...: its processor seconds, a line in a file of that name
  local name=$1
  shift
  { time "$@" >"$work/said" 2>&1; } 2>"$work/time" || { cat "$work/said" >&2; exit 2; }
  awk '{print $1 + $2}' "$work/time" >>"$work/$name"
}
median() { sort -g "$work/$1" | sed -n 2p; }
for _ in 1 2 3; do
  timed pass dotnet "$yardstick" pass "$work/rows.csv"
  grep -q "^$rows rows" "$work/said" || { echo "equal job: the pass read other rows: $(cat "$work/said")" >&2; exit 2; }
  rm -rf "$work/pipelines/.outcomes" "$work/out"
  timed run dotnet "$tool" run "$work/pipelines/baseline.yaml" --source "procedures=$work/rows.csv" --charts none --out "$work/out"
done
awk -v run="$(median run)" -v pass="$(median pass)" -v bound="$bound" 'BEGIN {
  printf "equal job: %.1f times the processor time of the hand-written pass (bound %g; %.2f s over %.2f s)\n", run / pass, bound, run, pass
  exit run / pass > bound }'
