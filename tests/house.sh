#!/usr/bin/env bash
# Holds the sources to the house's limits (folder size, method size, parameters, line width, circles between folders, file names)
# and lists every place that breaks one. Builds what it needs; the exit code is that of the tests.
set -euo pipefail
cd "$(dirname "$0")/.."
dotnet run -c Release --project tests/Outcomes.EndToEnd -- -class '*HouseTests*' "$@"
