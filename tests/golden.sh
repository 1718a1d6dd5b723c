#!/usr/bin/env bash
# Makes report- and appendix-without-drawings.html in reports/demo anew from the demonstration, as GoldenReportTests compares them: drawings
# keep their titles and descriptions and become a hash, fonts too. The pages with their drawings are left in FOLDER (outcomes-demo here):
# look at them, and at the difference, before committing. Needs python3.
#   tests/golden.sh [FOLDER]
set -euo pipefail
cd "$(dirname "$0")/.."
folder=${1:-outcomes-demo}
dotnet run -c Release --project src/Outcomes.Cli -- demo --out "$folder"
python3 - "$folder" reports/demo <<'PY'
import hashlib, re, sys
from pathlib import Path

def sha256(text):
    return hashlib.sha256(text.encode()).hexdigest()

def drawing(found):
    said = "".join(part.group() for part in re.finditer(r"(?s)<(title|desc)\b.*?</\1>", found.group()))
    return f'<svg data-sha256="{sha256(found.group())}">{said}</svg>'

for name in ("report", "appendix"):
    page = (Path(sys.argv[1]) / f"{name}.html").read_bytes().decode()
    page = re.sub(r"(?s)<svg\b.*?</svg>", drawing, page)
    page = re.sub(r"base64,([A-Za-z0-9+/=]{200,})", lambda found: f"base64,sha256-{sha256(found.group(1))}", page)
    (Path(sys.argv[2]) / f"{name}-without-drawings.html").write_bytes(page.encode())
PY
echo "with their drawings: $folder/report.html and appendix.html"
git --no-pager diff --stat -- reports/demo
