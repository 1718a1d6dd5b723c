#!/usr/bin/env bash
# Lets a screen reader (Orca, silent) read the demo's report, its cases and the form in Chromium, and says what it did not speak: outside CI, for it takes minutes and a desktop.
#   tests/screenreader.sh
# Exit code 0: everything was spoken; 1: something was not; 77: not run, and the last line says why.
set -euo pipefail
cd "$(dirname "$0")/.."
for needed in orca openbox xdotool xvfb-run dbus-run-session gsettings chromium; do
  command -v "$needed" > /dev/null || { echo "no $needed here: Debian has orca, openbox, xdotool, xvfb, dbus, libglib2.0-bin, chromium"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
dotnet build -c Release src/Outcomes.Cli -v q > /dev/null
tool=src/Outcomes.Cli/bin/Release/net10.0/outcomes.dll
dotnet "$tool" demo --out "$work/demo" > /dev/null
dotnet "$tool" form --out "$work/form.html" > /dev/null
export HOME="$work"
xvfb-run -a -s "-screen 0 1280x900x24" dbus-run-session -- /usr/bin/python3 -B tests/screenreader/walk.py "$work" chromium "$work/demo/report.html" "$work/demo/cases.html" "$work/form.html" 2> /dev/null
