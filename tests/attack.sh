#!/usr/bin/env bash
# Attacks the files that 1,000 small invented departments give to a network and to the public (tests/attack/attack.py): outside CI, for it takes hours.
#   tests/attack.sh [--from SEED] [--departments N] [--careless] [--together] [--only network|public|both]
#   tests/attack.sh --second [--from SEED] [--departments N] [--months] [--forget]
# --second is another attacker: words and differences beside numbers, late records, several pipelines (tests/attack/second.py).
# Exit code 0: nothing recovered; 1: something; 77: not run, and the last line says why.
set -euo pipefail
cd "$(dirname "$0")/.."
python=
for candidate in python3 /usr/bin/python3; do
  if "$candidate" -c 'from scipy.optimize import milp' 2>/dev/null; then python=$candidate; break; fi
done
[ -n "$python" ] || { echo "no Python with SciPy 1.9 or later here: Debian has python3-scipy"; exit 77; }
if [ "${1:-}" = --second ]; then
  shift
  batch=tests/Outcomes.Studies/bin/Release/net10.0/Outcomes.Studies.dll
  dotnet build -c Release tests/Outcomes.Studies -v q
  exec "$python" -B tests/attack/second.py --departments 1000 "$@" "$batch"
fi
tool=src/Outcomes.Cli/bin/Release/net10.0/outcomes.dll
[ -n "${OUTCOMES_TOOL:-}" ] && tool=$OUTCOMES_TOOL
[ -f "$tool" ] || dotnet build -c Release src/Outcomes.Cli -v q
exec "$python" -B tests/attack/attack.py --departments 1000 "$@" "$tool"
