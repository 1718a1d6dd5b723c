#!/usr/bin/env bash
# xlsx.sh [--write] [--rows N] [--programs FOLDER]
# One workbook of N rows and 39 columns (the benchmark's own file, as a spreadsheet), in one run: Outcomes, published, does the whole job on it
# (reads, checks, stores, counts) without charts, then again after its output is taken away, then with nothing changed; general-purpose
# readers of workbooks only read it. Medians of 3 runs after one to warm up.
#   --write   put the table into docs/performance.md
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
programs=$root/../shared/baselines rows=100000 write=
while [ $# -gt 0 ]; do
  case $1 in
    --write) write=1 ;;
    --rows) rows=$2; shift ;;
    --programs) programs=$2; shift ;;
    *) echo "unknown option $1" >&2; exit 2 ;;
  esac
  shift
done
[ -f "$programs/SPEC.md" ] || { echo "no comparison programs in $programs" >&2; exit 2; }
[ -x /usr/bin/time ] || { echo "GNU time is needed (apt: time)" >&2; exit 2; }
/usr/bin/python3 -c 'import openpyxl' 2>/dev/null || { echo "openpyxl is needed to make the workbook (apt: python3-openpyxl)" >&2; exit 2; }

unset CI # a published restore has a graph of its own, which the committed lock files do not hold
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/source"
tar -C "$root" --exclude=bin --exclude=obj --exclude=.git --exclude=.outcomes -cf - . | tar -C "$work/source" -xf -
cp -r "$programs/gen" "$work/gen"
dotnet build -c Release -o "$work/gen/out" --nologo -v q "$work/gen" >&2
dotnet publish -c Release -r linux-x64 -o "$work/published" --nologo -v q "$work/source/src/Outcomes.Cli" >&2

"$work/gen/out/gen" --rows "$rows" --months 60 --seed 1 --out "$work/rows.csv" >/dev/null
/usr/bin/python3 - "$work/rows.csv" "$work/rows.xlsx" <<'PY'
import csv, sys
import openpyxl
book = openpyxl.Workbook(write_only=True)
sheet = book.create_sheet("Airways")
for line, row in enumerate(csv.reader(open(sys.argv[1], encoding="utf-8", newline=""))):
    cells = []
    for cell in row:
        try:
            cells.append(float(cell) if line and cell and cell[0] in "0123456789.-" and "-" not in cell[1:] else cell or None)
        except ValueError:
            cells.append(cell)
    sheet.append(cells)
book.save(sys.argv[2])
PY

pipelines=$work/source/pipelines
# The committed mapping names a separator, which a workbook does not have.
sed '/^table:/d' "$pipelines/mappings/baseline.yaml" >"$pipelines/mappings/baseline-xlsx.yaml"
sed 's#mappings/baseline.yaml#mappings/baseline-xlsx.yaml#' "$pipelines/baseline.yaml" >"$pipelines/baseline-xlsx.yaml"
timed() { # NAME COMMAND...
  local name=$1
  shift
  /usr/bin/time -a -o "$work/times.tsv" -f "$name\t%e\t%U\t%S\t%M" "$@" >"$work/said" 2>&1 || { cat "$work/said" >&2; exit 1; }
}
for round in 0 1 2 3; do
  for kind in csv xlsx; do
    pipeline=$pipelines/baseline.yaml
    [ "$kind" = csv ] || pipeline=$pipelines/baseline-xlsx.yaml
    command=("$work/published/outcomes" run "$pipeline" --source "procedures=$work/rows.$kind" --charts none --out "$work/out")
    rm -rf "$work/source/pipelines/.outcomes" "$work/out"
    timed "**Outcomes, the whole job on the .$kind**" "${command[@]}"
    rm -rf "$work/out"
    timed "**Outcomes, .$kind**, again from the record store" "${command[@]}"
    timed "**Outcomes, .$kind**, nothing changed" "${command[@]}"
  done
  timed "pandas with openpyxl, reading only" /usr/bin/python3 -c 'import sys, pandas; pandas.read_excel(sys.argv[1], dtype=str)' "$work/rows.xlsx"
  if Rscript -e 'library(readxl)' >/dev/null 2>&1; then
    timed "R readxl, reading only" Rscript -e 'x <- readxl::read_xlsx(commandArgs(TRUE)[1], col_types = "text")' "$work/rows.xlsx"
  fi
  [ "$round" -gt 0 ] || rm "$work/times.tsv"
done

/usr/bin/python3 - "$work/times.tsv" "$rows" "$(nproc)" "$(date +%F)" "${write:+$root/docs/performance.md}" <<'PY'
import statistics, sys
times, rows, cores, day, page = sys.argv[1:]
runs = {}
for line in open(times):
    name, wall, user, system, kib = line.rstrip("\n").split("\t")
    runs.setdefault(name, []).append((float(wall), float(user) + float(system), float(kib) / 1024))
table = [f"Measured {day} on {cores} cores, medians of {len(next(iter(runs.values())))} runs, {int(rows):,} rows.", "",
         "| | wall s | processor s | rows a second | peak MiB |", "| --- | ---: | ---: | ---: | ---: |"]
for name, values in runs.items():
    wall, cpu, mib = map(statistics.median, zip(*values))
    table.append(f"| {name} | {wall:.2f} | {cpu:.2f} | {int(rows) / wall:,.0f} | {mib:,.0f} |")
text = "\n".join(table)
print(text)
if page:
    old = open(page).read()
    head, rest = old.split("<!-- xlsx -->\n", 1)
    open(page, "w").write(head + "<!-- xlsx -->\n" + text + "\n<!-- /xlsx -->" + rest.split("<!-- /xlsx -->", 1)[1])
PY
