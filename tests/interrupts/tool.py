"""The tool as a process, a small invented pipeline to run it on, and what makes its output whole."""
import hashlib
import json
import os
import shutil
import subprocess
import time
from pathlib import Path

PIPELINE = """name: tiny
as_of: 2026-02-01
sources:
  procedures: {file: rows.csv, mapping: mapping.yaml}
fields: fields.json
measures: [measure.yaml]
strata: [location_type]
baseline: {from: 2026-01, months: 12}
tolerance: 0.2
"""
MAPPING = """columns:
  record_id: {column: id}
  event_date: {column: day, date: yyyy-MM-dd}
  location_type: {column: place}
  attempts_total: {column: attempts}
  tube_first_time: {column: first}
"""
MEASURE = """id: measure
title: Tube at the first attempt
kind: proportion
eligible: attempts_total >= 1
met: tube_first_time
direction: up
why: Every further attempt carries more risk.
source: Invented for this test.
examples:
  - {given: {attempts_total: 1, tube_first_time: yes}, expect: met}
"""
FIELDS = """{"missingValues": [""], "fields": [{"name": "tube_first_time", "title": "Tube at the first attempt", "type": "boolean",
 "trueValues": ["yes"], "falseValues": ["no"], "description": "Was the tube placed at the first attempt?",
 "outcomes:identifying": "none"}]}
"""
ROWS = "id,day,place,attempts,first\n" + "".join(
    f"r{n},2026-01-{n % 28 + 1:02},{('icu', 'ed', 'ward')[n % 3]},{n % 3 + 1},{('yes', 'no')[n % 2]}\n" for n in range(60))


class Tool:
    def __init__(self, path):
        self.path = path
        self.environment = os.environ | {"DOTNET_TC_CallCountThreshold": "1000", "DOTNET_CLI_TELEMETRY_OPTOUT": "1"}

    def start(self, folder, arguments, **more):
        return subprocess.Popen(["dotnet", self.path, *arguments], cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                                stdin=subprocess.DEVNULL, text=True, errors="replace", env=self.environment | more)

    def run(self, folder, arguments, **more):
        """Exit code, standard error, seconds."""
        before = time.monotonic()
        process = self.start(folder, arguments, **more)
        _, error = process.communicate(timeout=600)
        return process.returncode, error, time.monotonic() - before


def write_pipeline(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in (("pipeline.yaml", PIPELINE), ("network.yaml", PIPELINE + "audience: network\n"), ("mapping.yaml", MAPPING),
                       ("measure.yaml", MEASURE), ("fields.json", FIELDS), ("rows.csv", ROWS)):
        (folder / name).write_text(text)


def fresh(base, folder):
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(base, folder, symlinks=True)


def files(folder, but=()):
    """Every file of a folder by its path: length and hash."""
    folder = Path(folder)
    return {str(path.relative_to(folder)): (path.stat().st_size, hashlib.sha256(path.read_bytes()).hexdigest())
            for path in sorted(folder.rglob("*")) if path.is_file() and path.name not in but}


def faults(folder):
    """What is wrong with a set by the list in its manifest."""
    there = files(folder)
    if "run.json" not in there:
        return ["no run.json"]
    try:
        listed = {file["path"]: (file["bytes"], file["sha256"]) for file in json.loads((Path(folder) / "run.json").read_text())["files"]}
    except (ValueError, KeyError) as wrong:
        return [f"run.json cannot be read: {wrong!r}"]
    del there["run.json"]
    return [f"differs, lacks or has too many: {name}" for name in sorted(there.keys() | listed.keys()) if there.get(name) != listed.get(name)]


def left_beside(folder):
    """What stopped commands have left: folders of work, parts of files, half-read sources."""
    return [str(path.relative_to(folder)) for pattern in (".*.outcomes", "*.part", ".outcomes/*/new-*", "*.new", "*.old", "*.building")
            for path in Path(folder).rglob(pattern)]
