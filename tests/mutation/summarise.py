"""Reads the JSON reports of a mutation run and writes a line per file (mutation.csv) and per mutant that is still alive (mutation-survivors.csv).

python3 summarise.py FOLDER_OF_REPORTS FOLDER_TO_WRITE. Lines of files that no report holds stay as they were.
Dead: killed or timed out. Alive: survived or without coverage. Left out: ignored mutants and those that do not compile.
"""
import csv
import json
import pathlib
import sys

HEADER = ["file", "mutants", "killed", "timeout", "survived", "no_coverage", "pending"]
ALIVE = ["file", "line", "column", "mutator", "replacement"]
STATES = {"Killed": "killed", "Timeout": "timeout", "Survived": "survived", "NoCoverage": "no_coverage", "Pending": "pending"}


def read(path):
    return list(csv.DictReader(path.open(encoding="utf-8"))) if path.exists() else []


def write(path, header, rows):
    with path.open("w", encoding="utf-8", newline="") as out:
        table = csv.DictWriter(out, header, lineterminator="\n")
        table.writeheader()
        table.writerows(rows)


reports, target = map(pathlib.Path, sys.argv[1:3])
files = {row["file"]: row for row in read(target / "mutation.csv")}
alive = {name: [row for row in read(target / "mutation-survivors.csv") if row["file"] == name] for name in files}
for report in sorted(reports.glob("*.json")):
    for path, content in json.loads(report.read_text(encoding="utf-8"))["files"].items():
        name = path.replace("\\", "/").split("Outcomes.Statistics/")[-1]
        counted = [mutant for mutant in content["mutants"] if mutant["status"] in STATES]
        if not counted:
            continue
        row = dict.fromkeys(HEADER, 0) | {"file": name, "mutants": len(counted)}
        for mutant in counted:
            row[STATES[mutant["status"]]] += 1
        files[name] = row
        alive[name] = [
            {"file": name, "line": mutant["location"]["start"]["line"], "column": mutant["location"]["start"]["column"],
             "mutator": mutant["mutatorName"], "replacement": " ".join(mutant.get("replacement", "").split())}
            for mutant in sorted(counted, key=lambda m: (m["location"]["start"]["line"], m["location"]["start"]["column"], m.get("replacement", "")))
            if mutant["status"] in ("Survived", "NoCoverage", "Pending")]
write(target / "mutation.csv", HEADER, [files[name] for name in sorted(files)])
write(target / "mutation-survivors.csv", ALIVE, [row for name in sorted(alive) for row in alive[name]])
total = {column: sum(int(row[column]) for row in files.values()) for column in HEADER[1:]}
dead = total["killed"] + total["timeout"]
print(f"{len(files)} files, {total}, dead {dead} of {total['mutants']}: {100 * dead / max(1, total['mutants']):.1f} %")

# The table of mutation.md stands between two comments; the prose around it is written by hand.
page = target / "mutation.md"
if page.exists():
    cells = [[row["file"], *(str(row[c]) for c in HEADER[1:]), f"{100 * (int(row['killed']) + int(row['timeout'])) / int(row['mutants']):.0f} %"]
             for row in (files[name] for name in sorted(files))]
    cells.append(["all", *(str(total[c]) for c in HEADER[1:]), f"{100 * dead / max(1, total['mutants']):.1f} %"])
    names = [*(h.replace("_", " ") for h in HEADER), "dead"]
    lines = ["| " + " | ".join(line) + " |" for line in [names, ["---", *["---:"] * (len(names) - 1)], *cells]]
    before, rest = page.read_text(encoding="utf-8").split("<!-- table -->\n", 1)
    page.write_text(before + "<!-- table -->\n" + "\n".join(lines) + "\n<!-- end -->\n" + rest.split("<!-- end -->\n", 1)[1], encoding="utf-8")
