#!/usr/bin/env bash
# run.sh [FOLDER] [ROWS ...]: the same rows through a comparison program and through pipelines/baseline.yaml, cell by cell.
# FOLDER holds the comparison programs (default: ../shared/baselines beside the project); ROWS default: 500 50000.
# Needs the built tool (dotnet build -c Release), the .NET SDK and python3. Writes only into a temporary folder.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
programs=${1:-$root/../shared/baselines}
shift || true
rows=("$@")
[ ${#rows[@]} -gt 0 ] || rows=(500 50000)
tool=${OUTCOMES:-$root/src/Outcomes.Cli/bin/Release/net10.0/outcomes.dll}

[ -f "$programs/SPEC.md" ] || { echo "no comparison programs in $programs" >&2; exit 2; }
[ -f "$tool" ] || { echo "no tool at $tool; build it first: dotnet build -c Release" >&2; exit 2; }

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
# The programs' folder may be read-only, and a build writes beside its sources.
cp -r "$programs" "$work/programs"
chmod -R u+w "$work/programs"
for program in gen baseline_duckdb; do
  dotnet build -c Release -o "$work/programs/$program/out" --nologo -v q "$work/programs/$program" >"$work/build.log" \
    || { cat "$work/build.log" >&2; exit 2; }
done
cp -r "$root/pipelines" "$work/pipelines"

result=0
for n in "${rows[@]}"; do
  months=60
  [ "$n" -gt 1000 ] || months=12
  [ "$n" -lt 1000000 ] || months=120
  file=$work/rows-$n.csv
  "$work/programs/gen/out/gen" --rows "$n" --months "$months" --seed 1 --out "$file"
  "$work/programs/baseline_duckdb/out/baseline_duckdb" "$file" "$work/theirs-$n" "$work/programs/schema.json" none
  dotnet "$tool" run "$work/pipelines/baseline.yaml" --source "procedures=$file" --charts none --out "$work/ours-$n"
  echo "$n rows:"
  python3 "$here/compare.py" "$work/ours-$n" "$work/theirs-$n" || result=1
  if [ -n "${KEEP:-}" ]; then
    mkdir -p "$KEEP"
    cp -r "$work/ours-$n" "$work/theirs-$n" "$KEEP/"
  fi
  rm -f "$file"
done
exit $result
