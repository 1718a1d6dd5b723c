#!/usr/bin/env bash
# traces.sh [--write] [--cases "1000 2000"]
# Monitor traces: so many cases of 5,400 samples (3 signals, one a second, 30 minutes), a row a sample, in one run of a pipeline with one
# record a case. A first run reads and summarises; a second one finds everything in the record store. Samples a second of processor time,
# which a busy machine does not change much, and peak memory.
#   --write   put the table into docs/performance.md
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
cases="1000 2000" write=
while [ $# -gt 0 ]; do
  case $1 in
    --cases) cases=$2; shift ;;
    --write) write=1 ;;
    *) echo "unknown option $1" >&2; exit 2 ;;
  esac
  shift
done
[ -x /usr/bin/time ] || { echo "GNU time is needed (apt: time)" >&2; exit 2; }
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
dotnet build -c Release --nologo -v q "$root/src/Outcomes.Cli" >"$work/build.log" 2>&1 || { tail -n 20 "$work/build.log" >&2; exit 2; }
tool=$root/src/Outcomes.Cli/bin/Release/net10.0/outcomes.dll

printf '%s\n' 'columns: {record_id: id, event_date: date, urgency: urgency, age_years: age, cardiac_arrest_before: arrest, spo2_min: low, t_tube_confirmed_s: tube}' >"$work/records.yaml"
printf '%s\n' 'table: {rows: samples}' 'columns: {record_id: id, t_s: t, signal: signal, value: value}' >"$work/traces.yaml"
printf '%s\n' 'name: traces' 'as_of: 2026-03-31' 'sources:' '  procedures: {file: records.csv, mapping: records.yaml}' '  traces: {file: traces.csv, mapping: traces.yaml}' 'baseline: all' >"$work/pipeline.yaml"
rows=
for n in $cases; do
  rm -rf "$work/.outcomes" "$work/out"
  awk -v n="$n" 'BEGIN { print "id,date,urgency,age,arrest,low,tube"; for (c = 0; c < n; c++) printf "case-%06d,2026-%02d-%02d,emergency,60,no,%d,%d\n", c, 1 + c % 3, 1 + c % 28, 80 + c % 15, 90 + c % 60 }' >"$work/records.csv"
  awk -v n="$n" 'BEGIN { print "id,t,signal,value"; for (c = 0; c < n; c++) for (t = 0; t < 1800; t++) { d = t % 600; s = d < 60 ? 98 : d < 60 + 2 * (c % 20) ? 98 - int((d - 60) / 2) : d < 300 ? 96 : 98
    printf "case-%06d,%d,spo2,%d\ncase-%06d,%d,hr,%d\ncase-%06d,%d,sbp,%d\n", c, t, s, c, t, 70 + t % 30, c, t, 85 + (t + c) % 60 } }' >"$work/traces.csv"
  for turn in first again; do
    /usr/bin/time -o "$work/time" -f '%e %U %S %M' dotnet "$tool" run "$work/pipeline.yaml" --charts none --out "$work/out" >"$work/said" 2>&1 || { cat "$work/said" >&2; exit 1; }
    read -r wall user system peak <"$work/time"
    rows+=$(awk -v n="$n" -v t="$turn" -v w="$wall" -v p="$(awk -v u="$user" -v s="$system" 'BEGIN { print u + s }')" -v m="$peak" \
      'BEGIN { printf "| %d, %s | %d | %.1f | %.1f | %d | %d |", n, t, n * 5400, w, p, n * 5400 / p, m / 1024 }')$'\n'
  done
done
table=$(printf '%s\n' "Measured $(date +%F) on $(nproc) cores, one run of each." '' '| cases | samples | wall s | processor s | samples a processor second | peak MiB |' '| --- | ---: | ---: | ---: | ---: | ---: |' "${rows%$'\n'}")
printf '%s\n' "$table"
if [ -n "$write" ]; then
  TABLE=$table python3 - "$root/docs/performance.md" <<'PY'
import os, re, sys
path = sys.argv[1]
text = open(path, encoding="utf-8").read()
part = f"<!-- traces -->\n{os.environ['TABLE']}\n<!-- /traces -->"
text = re.sub(r"<!-- traces -->.*<!-- /traces -->", lambda _: part, text, flags=re.S)
open(path, "w", encoding="utf-8").write(text)
PY
fi
