"""Attacks the files that small invented departments give to a network and to the public.

    attack.py [--from SEED] [--departments N] [--careless] [--together] [--only network|public|both] TOOL.dll

For every department the built tool makes two successive sets a rule, the second with --previous. The attacker has these files, the catalogue, and
how the measures are nested; the department's own records only judge what was concluded. With --careless the sets are written here instead of by the
tool: small cells are left out, totals stand. The attack must then find them, or it proves nothing. Exit code 1: a cell was recovered (or, with --careless, none).
"""
import argparse
import collections
import csv
import itertools
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time

import numpy as np

import sets
import solve
import wards

HERE = os.path.dirname(os.path.abspath(__file__))
YEAR = 2024
START = YEAR * 12
KINDS = wards.atoms()
MAPPING = """\
columns:
  record_id: {column: id}
  event_date: {column: day, date: yyyy-MM-dd}
  attempts_total: {column: attempts}
  first_pass_success: {column: first}
  plan_b: {column: plan_b}
  cardiac_arrest_before: {column: arrest}
  spo2_pre: {column: pre}
  spo2_min: {column: low}
  fona_performed: {column: fona}
  team_brief: {column: brief}
  location_type: {column: place}
  infection_status: {column: infection}
constants: {urgency: emergency, age_years: 60}
"""
PIPELINE = """\
name: ward
as_of: 2031-12-31
sources:
  procedures: {file: rows.csv, mapping: mapping.yaml}
measures: [%s]
strata: [%s]
headline: [first_pass, spo2_below_90, team_brief]
audience: %s
invented: true
"""


def make(tool, folder, months, records, audiences, strata):
    """The sets of every audience: {audience: [first, second]}."""
    wards.write(records, YEAR, os.path.join(folder, "rows.csv"))
    with open(os.path.join(folder, "mapping.yaml"), "w", encoding="utf-8") as file:
        file.write(MAPPING)
    made = collections.defaultdict(list)
    for audience in audiences:
        with open(os.path.join(folder, audience + ".yaml"), "w", encoding="utf-8") as file:
            file.write(PIPELINE % (", ".join(f"{m}.yaml" for m in wards.MEASURES), ", ".join(strata), audience))
        for at in (months - 2, months - 1):
            out = os.path.join(folder, f"{audience}-{at}")
            asked = ["dotnet", tool, "run", os.path.join(folder, audience + ".yaml"), "--month", f"{YEAR + at // 12}-{at % 12 + 1:02}", "--out", out]
            for earlier in made[audience]:
                asked += ["--previous", earlier]
            ran = subprocess.run(asked, capture_output=True, text=True, check=False)
            if ran.returncode != 0:
                raise RuntimeError(f"{ran.returncode} {ran.stderr}")
            made[audience].append(out)
    return made


def careless(folder, months, records):
    """One set as a careless release would write it: months, levels and totals whose own numbers are small are left out."""
    out = os.path.join(folder, "careless")
    os.makedirs(os.path.join(out, "tables"))
    counts = collections.Counter()
    for month, _, values, levels in records:
        name = f"{YEAR + month // 12}-{month % 12 + 1:02}"
        for group, (count, _) in enumerate(wards.GROUPS):
            for measure, part in count(*values[group]).items():
                counts[measure, name, "all", "all", part] += 1
                for at in ("all", *zip(wards.LEVELS, levels)):
                    counts[(measure, "", *(("all", "all") if at == "all" else at), part)] += 1
    whole = f"{YEAR}-01/{YEAR + (months - 1) // 12}-{(months - 1) % 12 + 1:02}"
    with open(os.path.join(out, "tables", "counts.csv"), "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(("measure", "period", "stratum", "level", "met", "eligible", "missing"))
        for key in dict.fromkeys(each[:-1] for each in counts):
            met, no, missing = (counts[(*key, part)] for part in (wards.MET, wards.NOT, wards.MISSING))
            if met + no >= 5 and not any(0 < number < 5 for number in (met, no, missing)):
                table.writerow((key[0], key[1] or whole, key[2], key[3], met, met + no, missing))
    with open(os.path.join(out, "tables", "estimates.csv"), "w", encoding="utf-8") as file:
        file.write("measure,period,stratum,level,value,lower,upper,level_pct,method,met,eligible,missing\n")
    with open(os.path.join(out, "report.html"), "w", encoding="utf-8") as file:
        file.write("<p>small numbers are left out</p>")
    with open(os.path.join(out, "datapackage.json"), "w", encoding="utf-8") as file:
        file.write("{}")
    with open(os.path.join(out, "run.json"), "w", encoding="utf-8") as file:
        json.dump(dict.fromkeys(sets.MANIFEST, "") | {"audience": "network", "threshold": 5, "rounded_to": 1}, file)
    return {"network": [out]}


class Ward:
    """The unknowns of a department: how many records of each kind there are by group, level of each stratum that is looked at, and stretch of months between two cuts."""

    def __init__(self, records, facts, strata):
        self.strata, self.levels = strata, list(itertools.product(*(wards.LEVELS[stratum] for stratum in strata)))
        cuts = sorted({fact.first for fact in facts} | {fact.last + 1 for fact in facts})
        self.stretches = list(zip(cuts, cuts[1:]))
        self.number, self.truth = {}, []
        known = collections.Counter()
        for month, _, values, levels in records:
            at = next((i for i, (first, end) in enumerate(self.stretches) if first <= START + month < end), None)
            if at is None:
                continue
            for group, (count, _) in enumerate(wards.GROUPS):
                kind = KINDS[group].index(count(*values[group]))
                known[group, kind, tuple(dict(zip(wards.LEVELS, levels))[stratum] for stratum in strata), at] += 1
        for group, kinds in enumerate(KINDS):
            for kind in range(len(kinds)):
                for level in self.levels:
                    for at in range(len(self.stretches)):
                        self.number[group, kind, level, at] = len(self.truth)
                        self.truth.append(known[group, kind, level, at])
        self.system = solve.System(len(self.truth))
        # The same records stand in every group.
        for at in range(len(self.stretches)):
            for level in self.levels:
                for group in range(1, len(KINDS)):
                    terms = {self.number[0, kind, level, at]: 1 for kind in range(len(KINDS[0]))}
                    terms |= {self.number[group, kind, level, at]: -1 for kind in range(len(KINDS[group]))}
                    self.system.know(terms, 0, 0)

    def cell(self, measure, parts, levels, stretches):
        group = next(g for g, kinds in enumerate(KINDS) if any(measure in kind for kind in kinds))
        return [self.number[group, kind, level, at] for kind, counts in enumerate(KINDS[group]) if counts.get(measure) in parts
                for level in levels for at in stretches]

    def learn(self, facts):
        for fact, named in facts:
            if fact.stratum not in ("all", *self.strata):
                continue
            within = [i for i, (first, end) in enumerate(self.stretches) if first >= fact.first and end <= fact.last + 1]
            levels = self.levels
            if fact.stratum != "all":
                place = self.strata.index(fact.stratum)
                levels = [level for level in levels if (level[place] not in named if fact.level == "(other)" else level[place] == fact.level)]
            for parts, (low, high) in (((wards.MET,), fact.met), ((wards.NOT,), fact.no), ((wards.MET, wards.NOT), fact.eligible), ((wards.MISSING,), fact.missing)):
                self.system.know(dict.fromkeys(self.cell(fact.measure, parts, levels, within), 1), low, high, (fact, parts))

    def levels_alone(self):
        if len(self.strata) != 1:
            yield "all", "all", self.levels
        for place, stratum in enumerate(self.strata):
            for level in wards.LEVELS[stratum]:
                yield stratum, level, [each for each in self.levels if each[place] == level]

    def protected(self, threshold):
        """Every small cell: part of a measure, all records or one level, a stretch or all of them."""
        cells = []
        every = range(len(self.stretches))
        for measure in wards.MEASURES:
            for part in (wards.MET, wards.NOT, wards.MISSING):
                for stratum, level, levels in self.levels_alone():
                    for stretches in [[at] for at in every] + ([every] if len(every) > 1 else []):
                        sums = self.cell(measure, (part,), levels, stretches)
                        if 0 < sum(self.truth[v] for v in sums) < threshold:
                            cells.append(((measure, wards.PARTS[part], stratum, level, self.stretches[stretches[0]][0] - START, self.stretches[stretches[-1]][1] - 1 - START), sums))
        return cells


def attack(seed, records, folders, threshold, looks):
    facts = {}
    for folder in folders:
        shown = sets.read(folder)[2]
        named = collections.defaultdict(set)
        for fact in shown:
            named[fact[:4]].add(fact.level)
        # What (other) holds is another matter in every set.
        facts |= {(fact, frozenset(named[fact[:4]]) if fact.level == "(other)" else None): None for fact in shown}
    number, found = 0, []
    for strata in looks if facts else ():
        ward = Ward(records, [fact for fact, _ in facts], strata)
        ward.learn(facts)
        cells = ward.protected(threshold)
        number += len(cells)
        for at, low, high, sure in ward.system.solve_for([sums for _, sums in cells], np.array(ward.truth, float), threshold, seed):
            found.append((*cells[at][0], sum(ward.truth[v] for v in cells[at][1]), low, high, sure))
    return len(facts), sum(fact.stratum != "all" for fact, _ in facts), number, found


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--from", dest="first", type=int, default=0)
    asked.add_argument("--departments", type=int, default=6)
    asked.add_argument("--careless", action="store_true")
    asked.add_argument("--only", choices=("network", "public", "both"))
    asked.add_argument("--together", action="store_true", help="both strata at once")
    asked.add_argument("tool")
    given = asked.parse_args()
    measures = os.path.join(HERE, "..", "..", "pipelines", "measures")
    looks = [tuple(wards.LEVELS)] if given.together else [(), *((stratum,) for stratum in wards.LEVELS)]
    totals, broken, started = collections.Counter(), 0, time.time()
    for seed in range(given.first, given.first + given.departments):
        which = "network" if given.careless else given.only or ("network", "public", "both")[seed % 3]
        audiences = ("network", "public") if which == "both" else (which,)
        months, records = wards.department(seed)
        with tempfile.TemporaryDirectory() as folder:
            for measure in wards.MEASURES:
                shutil.copy(os.path.join(measures, measure + ".yaml"), folder)
            # A set without strata has shorter periods.
            strata = tuple(wards.LEVELS) if seed // 3 % 2 == 0 else ()
            made = careless(folder, months, records) if given.careless else make(given.tool, folder, months, records, audiences, strata)
            folders = [out for audience in audiences if audience in made for out in made[audience]]
            facts, split, cells, found = attack(seed, records, folders, 10 if which == "public" else 5, looks)
        totals.update(departments=1, facts=facts, split=split, protected=cells, recovered=len(found))
        broken += bool(found)
        for each in found:
            print(f"seed {seed} {which}: {' '.join(map(str, each[:4]))} months {each[4]}-{each[5]}: {each[6]} is within {each[7]} and {each[8]}{'' if each[9] else ', at most (the solver ran out of time)'}", flush=True)
    print(f"{totals['departments']} departments, {totals['facts']} facts read, {totals['split']} of them of groups, {totals['protected']} protected cells, {totals['recovered']} recovered in {broken} departments", flush=True)
    print(f"{time.time() - started:.0f} s", file=sys.stderr)
    return int((broken == 0) == given.careless)


if __name__ == "__main__":
    sys.exit(main())
