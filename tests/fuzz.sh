#!/usr/bin/env bash
# Feeds spoilt input to every reader, two at a time: first AFL++ with SharpFuzz, which follow what code an input reaches, then mutations of
# our own that know the parts of a workbook. Any end but success or a refusal in words is a fault; the inputs that made one are kept.
#   tests/fuzz.sh [SECONDS a target and way, 3600 without it] [FOLDER for results] [TARGET...]
# Needs AFL++ (Debian: afl++) for its first part and says so where it is not there. Not part of CI.
set -euo pipefail
cd "$(dirname "$0")/.."
seconds=${1:-3600}
results=$(mkdir -p "${2:-fuzz-results}" && cd "${2:-fuzz-results}" && pwd)
targets=("${@:3}")
[ ${#targets[@]} -gt 0 ] || targets=(csv xlsx parquet json yaml conditions counts form)

dotnet build tests/Outcomes.Fuzz -c Release --nologo -v q
rm -rf "$results/plain" "$results/traced"
cp -r tests/Outcomes.Fuzz/bin/Release/net10.0 "$results/plain"
for target in "${targets[@]}"; do dotnet "$results/plain/Outcomes.Fuzz.dll" "$target" --seeds "$results/seeds/$target"; done

two_at_a_time() { printf '%s\n' "${targets[@]}" | xargs -P 2 -I {} bash -c "$1" || true; }

export results seconds
if command -v afl-fuzz > /dev/null; then
    dotnet tool install SharpFuzz.CommandLine --version 2.3.0 --tool-path "$results/tools" > /dev/null 2>&1 || true
    cp -r "$results/plain" "$results/traced"
    for library in Outcomes.Records Outcomes.Ingestion Outcomes.Measures outcomes YamlDotNet CsvHelper ExcelDataReader Parquet; do
        "$results/tools/sharpfuzz" "$results/traced/$library.dll"
    done
    export AFL_NO_AFFINITY=1 AFL_NO_UI=1 AFL_SKIP_CPUFREQ=1 AFL_I_DONT_CARE_ABOUT_MISSING_CRASHES=1 AFL_SKIP_BIN_CHECK=1
    mkdir -p "$results/afl"
    # shellcheck disable=SC2016
    two_at_a_time 'afl-fuzz -V $seconds -t 20000 -m none -i $results/seeds/{} -o $results/afl/{} \
        dotnet $results/traced/Outcomes.Fuzz.dll {} --afl > $results/afl-{}.log 2>&1'
    for target in "${targets[@]}"; do
        awk -v target="$target" -F ' *: *' '{ at[$1] = $2 } END { printf "%s, AFL++: %s s, %s inputs, %s kept, %s edges, %s crashes, %s hangs\n",
            target, at["run_time"], at["execs_done"], at["corpus_count"], at["edges_found"], at["saved_crashes"], at["saved_hangs"] }' \
            "$results/afl/$target/default/fuzzer_stats" || echo "$target, AFL++: did not start; see afl-$target.log"
    done
else
    echo "afl-fuzz is not here: mutations of our own only"
fi

cd "$results"
# shellcheck disable=SC2016
two_at_a_time 'dotnet $results/plain/Outcomes.Fuzz.dll {} $seconds 1'
