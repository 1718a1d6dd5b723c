"""Helps run.sh to meet only those changes again that an earlier run left alive: what more tests can kill is among them.

python3 survivors.py spans REPORT SOURCE_FOLDER        prints a pattern a line for the runner's -m: file{from..to}{from..to}...
python3 survivors.py merge REPORT AGAIN SOURCE_FOLDER  writes into REPORT what AGAIN found of its survivors; a file that changed since is not merged
"""
import json
import pathlib
import sys

ALIVE = ("Survived", "NoCoverage", "Pending")


def name(path):
    return path.replace("\\", "/").split("Outcomes.Statistics/")[-1]


def alive(content):
    return [mutant for mutant in content["mutants"] if mutant["status"] in ALIVE]


def key(mutant):
    start, end = mutant["location"]["start"], mutant["location"]["end"]
    return start["line"], start["column"], end["line"], end["column"], mutant["mutatorName"], mutant.get("replacement")


report_path, rest = pathlib.Path(sys.argv[2]), sys.argv[3:]
report = json.loads(report_path.read_text(encoding="utf-8"))
if sys.argv[1] == "spans":
    for path, content in report["files"].items():
        if all(mutant["status"] not in (*ALIVE, "Killed", "Timeout") for mutant in content["mutants"]):
            continue
        text = (pathlib.Path(rest[0]) / name(path)).read_text(encoding="utf-8")
        if content["source"].lstrip("\ufeff") != text.lstrip("\ufeff"):
            print(f"**/Outcomes.Statistics/{name(path)}")
            continue
        starts = [0]
        for line in content["source"].splitlines(keepends=True):
            starts.append(starts[-1] + len(line))
        at = lambda place: starts[place["line"] - 1] + place["column"] - 1
        spans = sorted({(at(m["location"]["start"]), at(m["location"]["end"])) for m in alive(content)})
        if spans:
            print(f"**/Outcomes.Statistics/{name(path)}" + "".join(f"{{{start}..{end}}}" for start, end in spans))
else:
    again = {name(path): content for path, content in json.loads(pathlib.Path(rest[0]).read_text(encoding="utf-8"))["files"].items()}
    for path, content in report["files"].items():
        newer = again.get(name(path))
        if newer is None:
            continue
        if newer["source"].lstrip("\ufeff") != content["source"].lstrip("\ufeff"):
            content["source"], content["mutants"] = newer["source"], newer["mutants"]
            continue
        found = {key(mutant): mutant["status"] for mutant in newer["mutants"]}
        for mutant in alive(content):
            status = found.get(key(mutant))
            if status in ("Killed", "Timeout"):
                mutant["status"] = status
    report_path.write_text(json.dumps(report, ensure_ascii=False), encoding="utf-8")
