#!/usr/bin/env bash
# Mutation testing of Outcomes.Statistics, one group of groups.txt after another: tests/mutation/run.sh [group ...]
# Works on a copy of the committed and changed files in a temporary folder (kept if MUTATION_FOLDER names it), and writes
# docs/statistics/mutation.csv (a line per file) and docs/statistics/mutation-survivors.csv. Minutes to an hour per group; not part of CI.
# MUTATION_AGAIN=1 with the MUTATION_FOLDER of an earlier run meets only what that run left alive, after tests were added.
set -euo pipefail
root=$(cd "$(dirname "$0")/../.." && pwd)
here=$root/tests/mutation
version=5.1.0
work=${MUTATION_FOLDER:-$(mktemp -d)}
[ -n "${MUTATION_FOLDER:-}" ] || trap 'rm -rf "$work"' EXIT
mkdir -p "$work/reports"
[ -x "$work/tool/dotnet-stryker" ] || dotnet tool install dotnet-stryker --version "$version" --tool-path "$work/tool"

grep -v '^#' "$here/groups.txt" | while IFS='|' read -r group sources tests; do
  group=$(echo $group)
  if [ $# -gt 0 ] && ! printf '%s\n' "$@" | grep -qx "$group"; then continue; fi
  copy=$work/$group
  rm -rf "$copy" && mkdir -p "$copy"
  (cd "$root" && git ls-files -co --exclude-standard -z | tar -c --null --ignore-failed-read -T - | tar -x -C "$copy")
  project=$copy/tests/Outcomes.Statistics.Tests
  find "$project" -name "*.cs" -not -path "*/obj/*" -not -path "*/bin/*" | while read -r file; do
    name=$(basename "$file")
    if grep -qE '\[(Fact|Theory)' "$file" && [[ " $tests " != *" $name "* ]]; then rm "$file"; fi
  done
  # A mutant is dead at its first failing test; with one thread the order of a run does not depend on the machine.
  echo '{ "stopOnFail": true, "parallelizeTestCollections": false }' > "$project/xunit.runner.json"
  sed -i 's|</Project>|<ItemGroup><None Include="xunit.runner.json" CopyToOutputDirectory="PreserveNewest" /></ItemGroup></Project>|' "$project/Outcomes.Statistics.Tests.csproj"
  # The runner reads a file at every change it passes, active or not: changes in other files would only cost time.
  targets=$(cd "$copy/src/Outcomes.Statistics" && ls $sources)
  (cd "$copy/src/Outcomes.Statistics" && find . -name '*.cs' -printf '%P\n' | grep -vxF "$targets" | xargs sed -i 's|^namespace |// Stryker disable all\n&|')
  # Each group's tests run whole for each mutant (no coverage analysis): this runner's coverage capture loses tests.
  mutate=()
  set -f
  if [ -n "${MUTATION_AGAIN:-}" ]; then
    while read -r pattern; do mutate+=(-m "$pattern"); done < <(python3 "$here/survivors.py" spans "$work/reports/$group.json" "$root/src/Outcomes.Statistics")
  else
    for source in $sources; do mutate+=(-m "**/Outcomes.Statistics/$source"); done
  fi
  set +f
  (cd "$project" && "$work/tool/dotnet-stryker" -f "$here/config.json" -t mtp --skip-version-check -c 1 "${mutate[@]}" -O "$work/out-$group" < /dev/null)
  found=$(find "$work/out-$group" -name 'mutation-report.json' -printf '%T@ %p\n' | sort -n | tail -1 | cut -d' ' -f2)
  if [ -n "${MUTATION_AGAIN:-}" ]; then
    python3 "$here/survivors.py" merge "$work/reports/$group.json" "$found" "$root/src/Outcomes.Statistics"
  else
    cp "$found" "$work/reports/$group.json"
  fi
done
python3 "$here/summarise.py" "$work/reports" "$root/docs/statistics"
