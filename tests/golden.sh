#!/usr/bin/env bash
# Makes reports/demo/report.html anew from the demonstration. Look at it, and at the difference, before committing it.
set -euo pipefail
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
dotnet run -c Release --project src/Outcomes.Cli -- demo --out "$work/out"
mkdir -p reports/demo
cp "$work/out/report.html" reports/demo/report.html
git --no-pager diff --stat -- reports/demo
