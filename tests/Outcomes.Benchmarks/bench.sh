#!/usr/bin/env bash
# bench.sh [--install] [--write] [--runs N] [--sizes "500 50000 1000000"] [--programs FOLDER]
# In one run, on one machine: pipelines/baseline.yaml by Outcomes (as built, and published as README says) and the same job by
# the comparison programs. 500 rows with 20 charts by all, larger files with charts by none. A run starts from an empty record store.
#   --install   apt-get what is missing: time, R and Python packages of the comparison programs
#   --write     put the table into docs/performance.md
# Without R or the Python packages those programs are left out, and the table says so.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
programs=$root/../shared/baselines
runs=3 sizes="500 50000 1000000" install= write=
while [ $# -gt 0 ]; do
  case $1 in
    --install) install=1 ;;
    --write) write=1 ;;
    --runs) runs=$2; shift ;;
    --sizes) sizes=$2; shift ;;
    --programs) programs=$2; shift ;;
    *) echo "unknown option $1" >&2; exit 2 ;;
  esac
  shift
done
[ -f "$programs/SPEC.md" ] || { echo "no comparison programs in $programs" >&2; exit 2; }
if [ -n "$install" ]; then
  apt-get update -qq
  apt-get install -y -qq --no-install-recommends time r-base-core r-cran-data.table r-cran-ggplot2 r-cran-svglite r-cran-jsonlite \
    python3-pandas python3-statsmodels python3-matplotlib >/dev/null
fi
[ -x /usr/bin/time ] || { echo "GNU time is needed (apt: time), or --install" >&2; exit 2; }

unset CI # a published restore has a graph of its own, which the committed lock files do not hold
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
log=$work/build.log
build() { "$@" >>"$log" 2>&1 || { tail -n 20 "$log" >&2; exit 2; }; }

cp -r "$programs" "$work/programs"
chmod -R u+w "$work/programs"
mkdir "$work/source"
tar -C "$root" --exclude=bin --exclude=obj --exclude=.git --exclude=.outcomes -cf - . | tar -C "$work/source" -xf -
for program in gen baseline_duckdb floor; do
  build dotnet build -c Release -o "$work/programs/$program/out" --nologo -v q "$work/programs/$program"
done
cli=$work/source/src/Outcomes.Cli
build dotnet build -c Release -o "$work/built" --nologo -v q "$cli"
build dotnet publish -c Release -r linux-x64 -o "$work/published" --nologo -v q "$cli"

has_r= has_python=
if command -v Rscript >/dev/null && Rscript -e 'library(data.table);library(ggplot2);library(svglite);library(jsonlite)' >/dev/null 2>&1; then has_r=1; fi
if /usr/bin/python3 -c 'import pandas, statsmodels, matplotlib' >/dev/null 2>&1; then has_python=1; fi
[ -n "$has_r" ] || echo "R with its packages is not here: left out" >&2
[ -n "$has_python" ] || echo "Python with its packages is not here: left out" >&2

results=$work/results.tsv
once() { # NAME ROWS COMMAND...: one timed run; a failed run stops the benchmark
  local name=$1 rows=$2
  shift 2
  /usr/bin/time -o "$work/time" -f '%e %U %S %M' "$@" >"$work/said" 2>&1 || { cat "$work/said" >&2; exit 1; }
  awk -v n="$name" -v r="$rows" '{printf "%s\t%s\t%s\t%.2f\t%.1f\n", n, r, $1, $2 + $3, $4 / 1024}' "$work/time"
}
ours() { # NAME ROWS FILE CHARTS COMMAND...
  local name=$1 rows=$2 file=$3 charts=$4
  shift 4
  local pipeline=$work/source/pipelines/baseline.yaml
  rm -rf "$work/source/pipelines/.outcomes" "$work/out"
  once "$name" "$rows" "$@" run "$pipeline" --source "procedures=$file" --charts "$charts" --out "$work/out"
  rm -rf "$work/out" # an output that stands would not be made again
  once "$name, again" "$rows" "$@" run "$pipeline" --source "procedures=$file" --charts "$charts" --out "$work/out"
}

for rows in $sizes; do
  months=60 charts=none theirs=none
  if [ "$rows" -le 1000 ]; then months=12 charts=all theirs=png; fi
  [ "$rows" -lt 1000000 ] || months=120
  file=$work/rows.csv
  "$work/programs/gen/out/gen" --rows "$rows" --months "$months" --seed 1 --out "$file"
  cat "$file" >/dev/null
  # Round by round, so that a busy minute of the machine falls on all alike; the first round only warms the caches.
  for ((round = 0; round <= runs; round++)); do
    {
      once "one hand-written pass (floor)" "$rows" "$work/programs/floor/out/floor" pass "$file" "$work/programs/schema.json" "$work/rejects.csv"
      once "DuckDB SQL, ScottPlot" "$rows" "$work/programs/baseline_duckdb/out/baseline_duckdb" "$file" "$work/duckdb" "$work/programs/schema.json" "$theirs"
      [ -z "$has_r" ] || once "R data.table, ggplot2" "$rows" Rscript "$work/programs/baseline_r/report.R" "$file" "$work/r" "$work/programs/schema.json" "$theirs"
      [ -z "$has_python" ] || once "Python pandas, matplotlib" "$rows" /usr/bin/python3 "$work/programs/baseline_py/report.py" "$file" "$work/py" --schema "$work/programs/schema.json" --chart "$theirs"
      ours "**Outcomes, as built**" "$rows" "$file" "$charts" dotnet "$work/built/outcomes.dll"
      ours "**Outcomes, published**" "$rows" "$file" "$charts" "$work/published/outcomes"
    } >"$work/round"
    [ "$round" -eq 0 ] || tee -a "$results" <"$work/round"
  done
  rm -f "$file"
done

python3 "$here/summary.py" "$results" >"$work/table.md"
cat "$work/table.md"
if [ -n "$write" ]; then
  python3 "$here/summary.py" "$results" "$root/docs/performance.md"
fi
