#!/usr/bin/env python3
"""compare.py OURS THEIRS: do a run of pipelines/baseline.yaml and a comparison program agree, cell by cell?

OURS is an output folder of `outcomes run pipelines/baseline.yaml`, THEIRS the output folder of a comparison program on the same
file (measures.csv, runchart.csv, rejects.csv, summary.json). Numbers must agree to 1e-9, everything else exactly. Prints what
differs, with the reason where it is a known stricter reading of ours; exit 0 when nothing differs, 1 when something does.
"""
import csv
import json
import sys
from collections import Counter
from pathlib import Path

TOLERANCE = 1e-9
SHOWN = 20  # of each kind; the total is always printed


class Differences:
    def __init__(self):
        self.lines = []
        self.kinds = Counter()
        self.notes = Counter()

    def add(self, kind, text):
        self.kinds[kind] += 1
        if self.kinds[kind] <= SHOWN:
            self.lines.append(f"{kind}: {text}")

    def note(self, text):
        self.notes[text] += 1

    def number(self, kind, where, ours, theirs):
        if ours == "" or abs(float(ours) - float(theirs)) > TOLERANCE:
            self.add(kind, f"{where}: ours {ours or 'blank'}, theirs {theirs}")

    def same(self, kind, where, ours, theirs):
        if ours != theirs:
            self.add(kind, f"{where}: ours {ours}, theirs {theirs}")

    def keys(self, kind, ours, theirs):
        for key in sorted(set(ours) - set(theirs)):
            self.add(kind, f"{key}: only ours has it")
        for key in sorted(set(theirs) - set(ours)):
            self.add(kind, f"{key}: only theirs has it")
        return sorted(set(ours) & set(theirs))


def table(path):
    with open(path, encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def whole_period(rows):
    """The widest interval of months among the periods: the whole data. Shorter ones (the last 12 months) are no concern here."""
    def months(period):
        (y1, m1), (y2, m2) = (map(int, month.split("-")) for month in period.split("/"))
        return 12 * (y2 - y1) + m2 - m1
    return max({row["period"] for row in rows if "/" in row["period"]}, key=months)


def our_estimates(path):
    rows = [row for row in table(path) if row["method"] in ("wilson", "")]
    whole = whole_period(rows)
    found = {}
    for row in rows:
        if "/" in row["period"] and row["period"] != whole or int(row["eligible"]) == 0:
            continue  # theirs leaves out what nobody was eligible for
        level = "(blank)" if row["level"] == "(missing)" else row["level"]
        month = "all" if row["period"] == whole else row["period"]
        key = (row["measure"], row["stratum"], level, month)
        if key in found:
            raise SystemExit(f"{path}: two rows for {key}")
        found[key] = row
    return found


def compare_measures(ours, theirs, out):
    mine = our_estimates(ours / "tables" / "estimates.csv")
    other = {(row["measure"], row["stratum"], row["level"], row["month"]): row for row in table(theirs / "measures.csv")}
    both = out.keys("measures", mine, other)
    for key in both:
        a, b = mine[key], other[key]
        out.same("counts", f"{key} num", int(a["met"]), int(b["num"]))
        out.same("counts", f"{key} den", int(a["eligible"]), int(b["den"]))
        for name, their in (("value", "value"), ("lower", "lo"), ("upper", "hi")):
            out.number("intervals", f"{key} {name}", a[name], b[their])
    return len(both)


def compare_run_charts(ours, theirs, out):
    mine = {row["measure"]: row for row in table(ours / "tables" / "runcharts.csv") if row["stratum"] == "all"}
    other = {row["measure"]: row for row in table(theirs / "runchart.csv")}
    both = out.keys("run charts", mine, other)
    for key in both:
        a, b = mine[key], other[key]
        out.number("run charts", f"{key} median", a["median"], b["median"])
        for name, their in (("points", "months"), ("useful", "useful"), ("longest_run", "longest_run"), ("run_limit", "run_limit"),
                            ("crossings", "crossings"), ("crossings_limit", "crossings_limit")):
            out.same("run charts", f"{key} {name}", int(a[name] or 0), int(b[their]))
        fired = int(a["longest_run"] or 0) > int(a["run_limit"] or 0) or int(a["crossings"] or 0) < int(a["crossings_limit"] or 0)
        out.same("run charts", f"{key} signal", int(fired), int(b["signal"]))
        if a["tested"] not in ("yes", "true"):
            out.note(f"{key}: same numbers, but ours is not tested (median at the edge, or too few cases or useful points)")
    return len(both)


def compare_rows(ours, theirs, out):
    """Every rejected row there is a quarantined row here, and the other way round; every rejected cell there has a finding here."""
    fates, rules, quarantined = Counter(), {}, set()
    for row in table(ours / "tables" / "ledger.csv"):
        fates[row["fate"]] += 1
        if row["fate"] == "quarantined":
            quarantined.add(int(row["line"]))
            rules[int(row["line"])] = row["rule"]
    summary = json.loads((theirs / "summary.json").read_text(encoding="utf-8"))
    out.same("rows", "in", sum(fates.values()), summary["rows_in"])
    out.same("rows", "accepted", fates["accepted"], summary["rows_ok"])
    out.same("rows", "quarantined", fates["quarantined"], summary["rows_rejected"])
    rejects = list(table(theirs / "rejects.csv"))
    out.keys("quarantined lines", quarantined, {int(row["line"]) for row in rejects})

    findings = {}
    for row in table(ours / "tables" / "findings.csv"):
        if row["line"]:
            findings.setdefault(int(row["line"]), []).append(row)
    rejected = {int(row["line"]) for row in rejects}
    for line, found in sorted(findings.items()):
        if line not in rejected and any(row["severity"] == "refuse" for row in found):
            out.add("findings", f"line {line}: ours refuses by {', '.join(row['rule'] for row in found)}, theirs does not")
    kinds = Counter()
    for row in rejects:
        line, found = int(row["line"]), findings.get(int(row["line"]), [])
        if row["reason"] in ("duplicate", "conflict"):  # of the row, not of one cell: the ledger or a finding names the rule
            named = {f["rule"] for f in found} | {rules.get(line, "")} - {""}
        else:
            named = {f["rule"] for f in found if f["column"] == row["column"]}
        if not named:
            out.add("findings", f"line {line} column {row['column']}: theirs says {row['reason']}, ours has no finding there")
        kinds[row["reason"], " ".join(sorted(named))] += 1
    return sum(fates.values()), kinds


def main():
    if len(sys.argv) != 3:
        raise SystemExit(__doc__)
    ours, theirs = map(Path, sys.argv[1:])
    out = Differences()
    measures = compare_measures(ours, theirs, out)
    charts = compare_run_charts(ours, theirs, out)
    rows, kinds = compare_rows(ours, theirs, out)
    print(f"compared {measures} counts with their intervals, {charts} run charts, {rows} rows")
    for (reason, named), n in sorted(kinds.items()):
        print(f"  their {reason} is our {named or '(nothing)'}: {n}")
    for text in sorted(out.notes):
        print(f"  stricter reading: {text}")
    for text in out.lines:
        print(text)
    for kind, n in sorted(out.kinds.items()):
        print(f"{kind}: {n} differences" + (f", {SHOWN} shown" if n > SHOWN else ""))
    print("DIFFER" if out.kinds else "agree")
    return 1 if out.kinds else 0


if __name__ == "__main__":
    sys.exit(main())
