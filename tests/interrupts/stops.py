"""Kills and interrupts at random moments of every command that writes, singly and in twos on one place; after each the next command must
go on from there, and what stands must be whole.

    stops.py TOOL [--kills N] [--interrupts N] [--seed S] [--minutes M]
"""
import argparse
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from pathlib import Path

from tool import Tool, faults, files, fresh, left_beside, write_pipeline

NO_CHARTS = ["--charts", "none"]
# Command, its arguments, where it writes, and what that is: a set that is replaced, or a new folder or new files, which never are.
KINDS = {
    "run": (["run", "pipeline.yaml", "--out", "out", *NO_CHARTS], ["out"], "set"),
    "run, first": (["run", "pipeline.yaml", "--out", "first", *NO_CHARTS], ["first"], "set"),
    "run for a network": (["run", "network.yaml", "--out", "net"], ["net"], "set"),
    "demo": (["demo", "--out", "demo"], ["demo"], "set"),
    "check": (["check", "pipeline.yaml"], [], "none"),
    "forget": (["forget", "pipeline.yaml"], [], "none"),
    "synthesise": (["synthesise", "--procedures", "40", "--out", "made"], ["made"], "folder"),
    "init": (["init", "started"], ["started"], "folder"),
    "init, empty folder": (["init", "empty"], ["empty"], "folder"),
    "init --from": (["init", "drafted", "--from", "rows.csv"], ["drafted"], "folder"),
    "strip": (["strip", "rows.csv", "--out", "copy.csv"], ["copy.csv"], "files"),
    "form": (["form", "--out", "form.html", "--mapping", "form.yaml", "--paper", "paper.html"],
             ["form.html", "form.yaml", "paper.html"], "files"),
    "review": (["review", "pipeline.yaml", "--case", "?", "--out", "case.html"], ["case.html"], "files"),
}
# How often each comes; the demonstration, which takes as long as ten others, comes once in two rounds.
ROUND = ["run"] * 5 + ["run, first"] * 2 + ["run for a network"] * 2 + ["check", "forget", "synthesise", "synthesise", "init", "init",
                                                                        "init, empty folder", "init --from", "strip", "strip", "form", "form", "review"]
MONTHS = ["2026-01", "2025-12", "2025-11"]


class Trials:
    def __init__(self, tool, work, seed, kinds):
        self.tool, self.work, self.random, self.kinds = tool, work, random.Random(seed), kinds
        self.base, self.reference, self.seconds = work / "base", {}, {}
        self.count, self.wrong = defaultdict(Counter), []
        self.prepare()

    def prepare(self):
        write_pipeline(self.base)
        (self.base / "empty").mkdir()
        for out, file, more in (("out", "pipeline.yaml", []), ("net", "network.yaml", [])):
            code, error, _ = self.tool.run(self.base, ["run", file, "--out", out, *NO_CHARTS, *more])
            assert code == 0, error
        error = self.tool.run(self.base, ["review", "pipeline.yaml", "--case", "none"])[1] if "review" in self.kinds else ""
        arguments = KINDS["review"][0]
        arguments[3] = error.split("it has ")[1].replace(";", ",").split(",")[0] if "it has " in error else ""
        if not arguments[3]:
            self.kinds = [kind for kind in self.kinds if kind != "review"]
        for kind in dict.fromkeys(self.kinds):
            folder = self.work / "reference"
            fresh(self.base, folder)
            code, error, took = self.tool.run(folder, KINDS[kind][0])
            assert code == 0, (kind, error)
            self.seconds[kind] = took
            self.reference[kind] = self.written(kind, folder)

    def written(self, kind, folder):
        """What stands at a command's places; null where nothing does."""
        _, places, what = KINDS[kind]
        if what == "folder":
            found = files(folder / places[0], but=("case-salt.txt",)) if (folder / places[0]).exists() else {}
            return found or None
        found = files(folder)
        return {place: found.get(place) for place in places}

    def moment(self, kind, folder, processes):
        """Waits for a random moment: of the whole command, of its writing, or about the swap."""
        _, places, what = KINDS[kind]
        aim = self.random.choice(["any", "writing", "swap"]) if places else "any"
        if aim == "any":
            time.sleep(self.random.uniform(0, 1.05 * self.seconds[kind]))
            return
        container = folder / f".{places[0]}.outcomes"
        pattern = "new-*" if aim == "writing" else "new-*/run.json" if what == "set" else "new-*"
        end = time.monotonic() + 60
        while time.monotonic() < end and any(process.poll() is None for process in processes):
            try:
                if any(container.glob(pattern)):
                    break
            except OSError:
                pass
            time.sleep(0.0005)
        time.sleep(self.random.uniform(0, 0.3 * self.seconds[kind] if aim == "writing" else 0.02))

    def trial(self, number, kind, how, two):
        folder = self.work / "trial"
        fresh(self.base, folder)
        arguments, places, what = KINDS[kind]
        own = [arguments + (["--month", month] if kind in ("run", "run, first") else []) for month in MONTHS]
        processes = [self.tool.start(folder, own[i]) for i in range(2 if two else 1)]
        self.moment(kind, folder, processes)
        stopped = [processes[0]] + ([processes[1]] if two and self.random.random() < 0.5 else [])
        for process in stopped:
            process.send_signal(how)
        ends = [(process in stopped, process.communicate(timeout=300)[1], process.returncode) for process in processes]
        name = f"{number} {kind}, {how.name}{', in twos' if two else ''}"
        tally = self.count[(kind, "kill" if how == signal.SIGKILL else "interrupt")]
        tally["tries"] += 1
        tally["in twos"] += two
        tally["stopped before the end"] += ends[0][2] not in (0, 5)
        # A second command finds a new place taken by the first.
        good = {0, 5} if what in ("files", "folder") or (two and kind == "forget") else {0}
        allowed = good | ({-9} if how == signal.SIGKILL else {130, -how.value, 128 + how.value})
        for was_stopped, error, code in ends:
            if code not in (allowed if was_stopped else good):
                self.fault(name, f"exit {code}: {error}")
            if "   at " in error or "bug" in error:
                self.fault(name, f"said: {error}")
        tally["something left beside"] += bool(left_beside(folder))
        self.look(name, kind, folder, before=True)
        stands = what in ("files", "folder") and self.written(kind, folder) == self.reference[kind]
        code, error, took = self.tool.run(folder, own[2])
        if code != (5 if stands else 0):
            self.fault(name, f"the next command ended with {code}: {error}")
        self.look(name, kind, folder, before=False)
        left = left_beside(folder)
        if kind == "check" or what in ("files", "folder"):
            # What reading left in the store goes with the next run that ends well.
            left = [path for path in left if not path.startswith(".outcomes/")]
        if left:
            self.fault(name, f"left after the next command: {left}")
        if not two:
            self.seconds[kind] = 0.7 * self.seconds[kind] + 0.3 * took

    def look(self, name, kind, folder, before):
        _, places, what = KINDS[kind]
        when = "after the stop" if before else "after the next command"
        if what == "set" and ((folder / places[0]).exists() or not before):
            for fault in faults(folder / places[0]):
                self.fault(name, f"{when}: {fault}")
        for place in ("out", "net"):
            if place not in places and faults(folder / place):
                self.fault(name, f"{when}: {place} was touched")
        if what == "set" and before and places[0] in ("out", "net") and not (folder / places[0]).exists():
            self.fault(name, f"{when}: {places[0]} is gone")
        if what in ("files", "folder"):
            stands, whole = self.written(kind, folder), self.reference[kind]
            if what == "folder" and before and stands is not None and stands != whole and (folder / f".{places[0]}.outcomes/begun").exists():
                return
            if what == "files" and before and (folder / f".{places[0]}.outcomes/begun").exists():
                return
            if stands != whole and not (before and (stands is None or (what == "files" and not any(stands.values())))):
                self.fault(name, f"{when}: {stands} is not whole")

    def fault(self, name, what):
        self.wrong.append((name, what))
        print(f"WRONG {name}: {what[:600]}", flush=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("tool")
    parser.add_argument("--kills", type=int, default=300)
    parser.add_argument("--interrupts", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=1e9)
    parser.add_argument("--only", help="commands, by the names in KINDS, with commas between")
    asked = parser.parse_args()
    work = Path(tempfile.mkdtemp(prefix="outcomes-stops-"))
    began = time.monotonic()
    try:
        trials = Trials(Tool(asked.tool), work, asked.seed, asked.only.split(",") if asked.only else [*ROUND, *ROUND, "demo"])
        order = ["kill"] * asked.kills + ["interrupt"] * asked.interrupts
        trials.random.shuffle(order)
        kinds = []
        for number, way in enumerate(order):
            if time.monotonic() - began > 60 * asked.minutes:
                break
            if not kinds:
                kinds = list(trials.kinds)
                trials.random.shuffle(kinds)
            how = signal.SIGKILL if way == "kill" else trials.random.choice([signal.SIGINT, signal.SIGTERM])
            trials.trial(number, kinds.pop(), how, two=trials.random.random() < 0.4)
            if number % 50 == 49:
                print(f"{number + 1} of {len(order)} tried, wrong: {len(trials.wrong)}", flush=True)
        report(trials, began)
    except KeyboardInterrupt:
        report(trials, began)
    finally:
        shutil.rmtree(work, ignore_errors=True)
    sys.exit(1 if trials.wrong else 0)


def report(trials, began):
    print("| command | stopped by | tries | in twos | stopped before the end | something left beside |")
    print("| --- | --- | ---: | ---: | ---: | ---: |")
    total = defaultdict(Counter)
    for (kind, way), tally in sorted(trials.count.items()):
        total[way].update(tally)
        print(f"| {kind} | {way} | {tally['tries']} | {tally['in twos']} | {tally['stopped before the end']} | {tally['something left beside']} |")
    for way, tally in sorted(total.items()):
        print(f"| all | {way} | {tally['tries']} | {tally['in twos']} | {tally['stopped before the end']} | {tally['something left beside']} |")
    print(f"wrong: {len(trials.wrong)}; {time.monotonic() - began:.0f} s")


if __name__ == "__main__":
    main()
