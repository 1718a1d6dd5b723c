"""A second attack on sets for others, from what they say alone.

    second.py [--from SEED] [--departments N] [--months] [--forget] BATCH.dll

Every department gives out four kinds of sets: a network's in an earlier month; then, after records came late and others were corrected, a network's
and the public's of its last month, one of a second pipeline over the same file (other measures first, other groups), and, where nothing was
corrected, one of a third that reads a second file too. The attacker has all of their files and the rule as the page and the source text print it. He has three ways:

1. Numbers. An integer programme over every count, total, proportion, interval, group and period finds the least and the most of each small cell: of
   the records, and of those of the second file alone. Won: fewer whole numbers between them than the threshold.
2. Words. A measure that is "not shown" in a period had a reason: too few met or not met there or in an earlier period, few missing, or a few records
   more or less than a measure that is shown. This is put into the programme as alternatives, for sets without groups, where these are all reasons.
3. Differences. The same sets are made from a department in which nothing came late and nothing was corrected; with --months from one in which
   records lie in other months of their period. Won: one byte of any file differs, for then it tells of a late record, or of a month.

The department's own records only judge what was concluded. With --forget the tool knows nothing of the earlier set; the third way must then win, or it
proves nothing. Exit code 1: something was won (or, with --forget, nothing).
"""
import argparse
import collections
import itertools
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time

import numpy as np

import attack
import sets
import solve
import wards

START, KINDS = attack.START, attack.KINDS
MANY = 5000


class Tool:
    def __init__(self, batch):
        self.process = subprocess.Popen(["dotnet", batch, "batch"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    def run(self, *arguments):
        self.process.stdin.write(json.dumps(arguments) + "\n")
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        if not answer.startswith("0 "):
            raise RuntimeError(f"{arguments}: {answer}")


class Department:
    """A ward, what came late, what was corrected, and a second file with a few records of the same kind."""

    def __init__(self, seed):
        draw = random.Random(seed * 7919 + 1)
        self.months, records = wards.department(seed)
        self.first = max(1, self.months - 1 - draw.randrange(1, 9))  # the month of the earlier set
        self.step = 12 if seed // 2 % 2 == 0 else 6
        self.strata = tuple(wards.LEVELS) if self.step == 12 else ()
        over = self.first // self.step * self.step  # months of periods that have ended by the earlier set
        spare = wards.department(seed + 500_000)[1] or records
        late = [(draw.randrange(over), 1 + draw.randrange(28), *draw.choice(spare)[2:]) for _ in range(draw.randrange(1, 7))] if over and spare else []
        # Corrections change places: the third pipeline's difference would be of no group.
        wrong = set(draw.sample(range(len(records)), min(len(records), draw.randrange(4)))) if seed % 2 else set()
        self.known = [r for r in records if r[0] < self.first]
        self.corrected = [(r[0], r[1], *draw.choice(spare)[2:]) if at in wrong and r[0] < over else r for at, r in enumerate(records)] + late
        # What the page says stands: a period as it was when it was first shown.
        self.standing = records
        self.second = [(draw.randrange(self.months), 1 + draw.randrange(28), *draw.choice(spare)[2:]) for _ in range(draw.randrange(1, 60))] if spare else []
        # The third pipeline is first made after they came: what it has more than the first is both.
        self.more = self.second + late
        self.pipelines = tuple(PIPELINES)[: 3 if wrong else 4]

    def moved(self, records, seed):
        """The same records in other months of their periods; none into a month that has none of its period by then."""
        draw = random.Random(seed)
        place = {}
        for start in range(0, self.months, self.step):
            whole = list(range(start, start + self.step))
            mixed = whole[:]
            if start + self.step <= self.first:
                draw.shuffle(mixed)
            place.update(zip(whole, mixed))
        return [(place[r[0]], *r[1:]) for r in records]


PIPELINES = {
    # name: (audience, files, turned round)
    "network": ("network", ("rows.csv",), False),
    "public": ("public", ("rows.csv",), False),
    "other": ("network", ("rows.csv",), True),
    "both": ("network", ("rows.csv", "more.csv"), False),
}


def write(folder, department):
    with open(os.path.join(folder, "mapping.yaml"), "w", encoding="utf-8") as file:
        file.write(attack.MAPPING)
    for name, (audience, files, turned) in PIPELINES.items():
        measures = wards.MEASURES[::-1] if turned else wards.MEASURES
        strata = department.strata[:1] if turned else department.strata
        with open(os.path.join(folder, name + ".yaml"), "w", encoding="utf-8") as file:
            file.write(attack.PIPELINE.replace("name: ward", f"name: {name}").replace(
                "  procedures: {file: rows.csv, mapping: mapping.yaml}",
                "\n".join(f"  {each[:4]}: {{file: {each}, mapping: mapping.yaml}}" for each in files)).replace(
                "headline: [first_pass, spo2_below_90, team_brief]", f"headline: [{', '.join(measures[:3])}]")
                % (", ".join(f"{m}.yaml" for m in measures), ", ".join(strata), audience))
        for measure in wards.MEASURES:
            shutil.copy(os.path.join(attack.HERE, "..", "..", "pipelines", "measures", measure + ".yaml"), folder)


def export(records, path, mark):
    wards.write(records, attack.YEAR, path)
    with open(path, encoding="utf-8") as file:
        text = file.read().replace("\nr", "\n" + mark)
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)


def make(tool, folder, department, known, last, second, forget):
    """The sets, in the order in which they are given out."""
    write(folder, department)
    export(second, os.path.join(folder, "more.csv"), "m")
    made = []
    for records, month, names in ((known, department.first, ("network",)), (last, department.months, department.pipelines)):
        export(records, os.path.join(folder, "rows.csv"), "r")
        if forget and made:
            shutil.rmtree(os.path.join(folder, ".outcomes"))
        for name in names:
            out = os.path.join(folder, f"sets{month}" if forget else "sets", name, f"{month:02}")
            at = month - 1
            tool.run("run", os.path.join(folder, name + ".yaml"), "--month", f"{attack.YEAR + at // 12}-{at % 12 + 1:02}", "--out", out)
            made.append((name, out))
    return made


def bytes_of(made, ours):
    text = {}
    for name, out in made:
        for at, _, names in os.walk(out) if name != "both" else ():  # that has shown nothing before
            for each in names:
                with open(os.path.join(at, each), "rb") as file:
                    text[name, os.path.basename(out), os.path.relpath(os.path.join(at, each), out)] = file.read().replace(ours.encode(), b"")
    return text


class Model:
    """The unknowns: records of each kind by group of fields, file, level of each stratum, and period."""

    FILES = ("rows", "more")

    def __init__(self, department, facts, strata):
        self.strata = strata
        self.levels = list(itertools.product(self.FILES, *(wards.LEVELS[stratum] for stratum in strata)))
        ends = {fact.last + 1 for _, fact, _ in facts}
        # A period of which nothing is shown may be why a later one hides a measure.
        cuts = sorted({fact.first for _, fact, _ in facts} | ends | set(range(START, max(ends), department.step)))
        self.stretches = list(zip(cuts, cuts[1:]))
        known = collections.Counter()
        for file, records in zip(self.FILES, (department.standing, department.more)):
            for month, _, values, levels in records:
                at = next((i for i, (first, end) in enumerate(self.stretches) if first <= START + month < end), None)
                if at is not None:
                    level = (file, *(dict(zip(wards.LEVELS, levels))[stratum] for stratum in strata))
                    for group, (count, _) in enumerate(wards.GROUPS):
                        known[group, KINDS[group].index(count(*values[group])), level, at] += 1
        self.number, self.truth = {}, []
        for group, kinds in enumerate(KINDS):
            for kind, level, at in itertools.product(range(len(kinds)), self.levels, range(len(self.stretches))):
                self.number[group, kind, level, at] = len(self.truth)
                self.truth.append(known[group, kind, level, at])
        self.rows = []
        for at, level, group in itertools.product(range(len(self.stretches)), self.levels, range(1, len(KINDS))):
            terms = {self.number[0, kind, level, at]: 1 for kind in range(len(KINDS[0]))}
            terms |= {self.number[group, kind, level, at]: -1 for kind in range(len(KINDS[group]))}
            self.rows.append((terms, 0, 0, "the same records"))

    def cell(self, measure, parts, levels, stretches):
        group = next(g for g, kinds in enumerate(KINDS) if any(measure in kind for kind in kinds))
        return [self.number[group, kind, level, at] for kind, counts in enumerate(KINDS[group]) if counts.get(measure) in parts
                for level in levels for at in stretches]

    def of(self, name):
        return [level for level in self.levels if name == "both" or level[0] == "rows"]

    def within(self, first, last):
        return [i for i, (start, end) in enumerate(self.stretches) if start >= first and end <= last + 1]

    def value(self, variables):
        return sum(self.truth[v] for v in variables)

    def learn(self, facts):
        for name, fact, named in facts:
            levels = self.of(name)
            if fact.stratum != "all":
                if fact.stratum not in self.strata:
                    continue
                place = 1 + self.strata.index(fact.stratum)
                levels = [level for level in levels if (level[place] not in named if fact.level == "(other)" else level[place] == fact.level)]
            within = self.within(fact.first, fact.last)
            for parts, (low, high) in (((wards.MET,), fact.met), ((wards.NOT,), fact.no), ((wards.MET, wards.NOT), fact.eligible), ((wards.MISSING,), fact.missing)):
                self.rows.append((dict.fromkeys(self.cell(fact.measure, parts, levels, within), 1), low, high, (name, fact, parts)))

    def choose(self, alternatives, why):
        """One at least of these holds: each is a list of (variables with their factors, least, most)."""
        chosen = []
        for alternative in alternatives:
            flag = len(self.truth)
            holds = True
            for terms, low, high in alternative:
                real = sum(self.truth[v] * c for v, c in terms.items())
                holds = holds and low <= real <= high
            self.truth.append(int(holds))
            self.rows.append(({flag: 1}, 0, 1, why))
            for terms, low, high in alternative:
                if low > -MANY:
                    self.rows.append(({**terms, flag: -(MANY + low)}, -MANY, 10 * MANY, why))
                if high < MANY:
                    self.rows.append(({**terms, flag: MANY - high}, -10 * MANY, MANY, why))
            chosen.append(flag)
        self.rows.append((dict.fromkeys(chosen, 1), 1, len(chosen), why))

    def words(self, name, threshold, shown, beside, periods):
        """What "not shown" can mean in each period, where nothing is split. shown: {(period, measure)}, beside: also those that another set shows"""
        levels = self.of(name)
        for first, last in periods:
            for measure in wards.MEASURES:
                if ((first, last), measure) in shown:
                    continue
                reasons = []
                for start in range(START, first + 1, last + 1 - first):
                    within = self.within(start, start + last - first)
                    for part in (wards.MET, wards.NOT):
                        reasons.append([(dict.fromkeys(self.cell(measure, (part,), levels, within), 1), 0, threshold - 1)])
                within = self.within(first, last)
                reasons.append([(dict.fromkeys(self.cell(measure, (wards.MISSING,), levels, within), 1), 1, 2 * threshold - 1)])
                every = (wards.MET, wards.NOT, wards.MISSING)
                for other in wards.MEASURES:
                    if ((first, last), other) in beside:
                        terms = collections.Counter(self.cell(measure, every, levels, within))
                        terms.subtract(self.cell(other, every, levels, within))
                        reasons.append([(dict(terms), 1, 2 * threshold - 1)])
                        reasons.append([(dict(terms), 1 - 2 * threshold, -1)])
                self.choose(reasons, (name, measure, first, last, "not shown"))

    def small(self, threshold):
        """Every small cell of the records, of one level of each stratum, and of the second file alone."""
        asked = [("all", "all", self.of("network")), ("file", "more", [level for level in self.levels if level[0] == "more"])]
        for place, stratum in enumerate(self.strata):
            asked += [(stratum, each, [level for level in self.of("network") if level[1 + place] == each]) for each in wards.LEVELS[stratum]]
        every = range(len(self.stretches))
        for measure, part, (stratum, level, levels) in itertools.product(wards.MEASURES, range(3), asked):
            for stretches in [[at] for at in every] + ([list(every)] if len(every) > 1 else []):
                variables = self.cell(measure, (part,), levels, stretches)
                if 0 < self.value(variables) < threshold:
                    yield (measure, wards.PARTS[part], stratum, level, self.stretches[stretches[0]][0] - START, self.stretches[stretches[-1]][1] - 1 - START), variables

    def solve(self, threshold, seed):
        system = solve.System(len(self.truth))
        for terms, low, high, why in self.rows:
            system.know(terms, low, high, why)
        cells = list(self.small(threshold))
        # Fewer whole numbers than the threshold: least and most are less than threshold - 1 apart.
        found = system.solve_for([variables for _, variables in cells], np.array(self.truth, float), threshold - 1, seed)
        return len(cells), [(*cells[at][0], self.value(cells[at][1]), low, high, sure) for at, low, high, sure in found]


def conclude(department, made, seed):
    facts, periods, shown = {}, {}, collections.defaultdict(set)
    for name, out in made:
        read = sets.read(out)[2]
        named = collections.defaultdict(set)
        for fact in read:
            named[fact[:4]].add(fact.level)
            if fact.stratum == "all" and fact.last - fact.first + 1 == department.step:
                shown[name].add(((fact.first, fact.last), fact.measure))
        facts |= {(name, fact, frozenset(named[fact[:4]]) if fact.level == "(other)" else None): None for fact in read}
    if not facts:
        return 0, 0, 0, []
    model = Model(department, facts, department.strata)
    model.learn(facts)
    number, words = len(facts), 0
    if not department.strata:
        # Periods that a set shows something of; what it says of the others it does not say.
        for name in ("network", "public", "both"):
            periods = sorted({period for period, _ in shown[name]})
            before = len(model.rows)
            if name != "both":
                # The public is shown no measure that a network is not.
                model.words(name, 10 if name == "public" else 5, shown[name], shown["network"] | shown[name], periods)
            words += len(model.rows) > before and len(periods) * len(wards.MEASURES) - len(shown[name])
    cells, found = model.solve(5, seed)
    return number, words, cells, found


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("--from", dest="first", type=int, default=0)
    asked.add_argument("--departments", type=int, default=4)
    asked.add_argument("--months", action="store_true", help="also make the sets of a department whose records lie in other months")
    asked.add_argument("--forget", action="store_true", help="the tool knows nothing of the earlier set")
    asked.add_argument("batch")
    given = asked.parse_args()
    tool, totals, started = Tool(given.batch), collections.Counter(), time.time()
    for seed in range(given.first, given.first + given.departments):
        department = Department(seed)
        worlds = [(department.known, department.corrected), (department.known, department.standing)]
        if given.months:
            worlds.append(tuple(department.moved(records, seed) for records in worlds[0]))
        texts, facts, words, cells, found = [], 0, 0, 0, []
        with tempfile.TemporaryDirectory() as folder:
            for world, (known, last) in enumerate(worlds):
                at = os.path.join(folder, str(world))
                os.mkdir(at)
                made = make(tool, at, department, known, last, department.second, given.forget)
                texts.append(bytes_of(made, at))
                if world == 0 and not given.forget:
                    try:
                        facts, words, cells, found = conclude(department, made, seed)
                    except solve.Untrue as untrue:
                        totals["untrue"] += 1
                        print(f"seed {seed}: the attacker believes something untrue: {untrue}", flush=True)
        differing = sum(text[key] != texts[0][key] for text in texts[1:] for key in texts[0])
        totals.update(departments=1, facts=facts, words=words, cells=cells, recovered=len(found), files=len(texts[0]) * (len(texts) - 1), differing=differing)
        for each in found:
            print(f"seed {seed}: {' '.join(map(str, each[:4]))} months {each[4]}-{each[5]}: {each[6]} is within {each[7]} and {each[8]}{'' if each[9] else ', at most (the solver ran out of time)'}", flush=True)
        for text, key in itertools.product(texts[1:], texts[0]):
            if text[key] != texts[0][key]:
                print(f"seed {seed}: {' '.join(key)} differs", flush=True)
    print(", ".join(f"{number} {what}" for what, number in totals.items()), flush=True)
    print(f"{time.time() - started:.0f} s", file=sys.stderr)
    return int((totals["recovered"] + totals["differing"] + totals["untrue"] > 0) != given.forget)


if __name__ == "__main__":
    sys.exit(main())
