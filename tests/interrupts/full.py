"""The disk refuses: it is full after every 64 kB more, or one call that changes it fails. Each must end with exit 5 and a sentence, and the
old set must stand as it was; or, where only tidying failed, with exit 0 and the new set whole. The next run must go on from there.

    full.py TOOL space  [--step KB]            needs the right to mount a tmpfs
    full.py TOOL calls  LIBRARY [--from N] [--to N] [--every K] [--errno E]     LIBRARY: failonce.c, compiled
"""
import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from tool import Tool, faults, files, fresh, left_beside, write_pipeline

RUN = ["run", "pipeline.yaml", "--out", "out"]
COMMANDS = {
    "run": (RUN + ["--charts", "none", "--month", "2025-12"], "out"),
    "run with charts": (RUN + ["--month", "2025-12"], "out"),
    "run of a changed source": (RUN + ["--charts", "none", "--source", "procedures=more.csv"], "out"),
    "init": (["init", "made"], "made"),
    "synthesise": (["synthesise", "--procedures", "200", "--out", "made"], "made"),
    "form": (["form", "--out", "form.html", "--mapping", "form.yaml", "--paper", "paper.html"], "form.html"),
    "strip": (["strip", "rows.csv", "--out", "copy.csv"], "copy.csv"),
}


def prepare(tool, base):
    write_pipeline(base)
    (base / "more.csv").write_text((base / "rows.csv").read_text() + "r99,2026-01-29,icu,1,yes\n")
    code, error, _ = tool.run(base, [*RUN, "--charts", "none"])
    assert code == 0, error


class Tries:
    def __init__(self):
        self.count, self.wrong = Counter(), []

    def judge(self, name, folder, before, place, code, error):
        """What a command left that met a refusal."""
        self.count[code] += 1
        said = [line for line in error.splitlines() if line.strip()]
        if code not in (0, 5):
            self.fault(name, f"exit {code}: {error}")
        if code == 5 and not (said and said[-1].startswith("outcomes: ") and "   at " not in error):
            self.fault(name, f"said no sentence: {error}")
        old = files(folder / "out")
        if place == "out" and code == 0:
            if faults(folder / "out"):
                self.fault(name, f"exit 0, and the set is not whole: {faults(folder / 'out')}")
        elif old != before:
            self.fault(name, f"exit {code}, and the old set was touched")
        if place != "out" and code == 5 and (folder / place).exists():
            self.fault(name, f"exit 5, and {place} stands")

    def go_on(self, name, tool, folder, arguments, place):
        code, error, _ = tool.run(folder, arguments)
        if code != 0:
            self.fault(name, f"the next command ended with {code}: {error}")
        if place == "out" and faults(folder / "out"):
            self.fault(name, f"after the next run: {faults(folder / 'out')}")
        left = [path for path in left_beside(folder) if place == "out" or not path.startswith(".outcomes/")]
        if left:
            self.fault(name, f"left after the next command: {left}")

    def fault(self, name, what):
        self.wrong.append(name)
        print(f"WRONG {name}: {what[:500]}", flush=True)


def space(tool, asked, tries):
    disk = Path(tempfile.mkdtemp(prefix="outcomes-full-"))
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64m", "tmpfs", str(disk)], check=False).returncode != 0:
        print("77: no right to mount a tmpfs here")
        sys.exit(77)
    try:
        base = Path(tempfile.mkdtemp(prefix="outcomes-base-")) / "base"
        prepare(tool, base)
        before = files(base / "out")
        for command, (arguments, place) in COMMANDS.items():
            folder, room, code = disk / "w", 0, 5
            while code != 0 and room < 64 * 1024:
                subprocess.run(["mount", "-o", "remount,size=64m", str(disk)], check=True)
                fresh(base, folder)
                used = os.statvfs(disk)
                used_kb = (used.f_blocks - used.f_bfree) * used.f_frsize // 1024
                subprocess.run(["mount", "-o", f"remount,size={used_kb + room}k", str(disk)], check=True)
                code, error, _ = tool.run(folder, arguments)
                name = f"{command}, {room} kB free"
                tries.judge(name, folder, before, place, code, error)
                subprocess.run(["mount", "-o", "remount,size=64m", str(disk)], check=True)
                if code != 0 and room // asked.step % asked.recover == 0:
                    tries.go_on(name, tool, folder, arguments, place)
                room += asked.step
            print(f"{command}: {room // asked.step} sizes of {asked.step} kB, the last one had room", flush=True)
    finally:
        subprocess.run(["umount", str(disk)], check=False)
        shutil.rmtree(disk, ignore_errors=True)


def calls(tool, asked, tries):
    work = Path(tempfile.mkdtemp(prefix="outcomes-calls-"))
    try:
        base, folder, log = work / "base", work / "w", work / "log"
        prepare(tool, base)
        before = files(base / "out")
        failed = Counter()
        for command, (arguments, place) in COMMANDS.items():
            if command == "run with charts" or (asked.only and command not in asked.only.split(",")):
                continue
            preload = {"LD_PRELOAD": asked.library, "FAIL_UNDER": str(folder), "FAIL_LOG": str(log), "FAIL_ERRNO": str(asked.errno)}
            fresh(base, folder)
            code, error, _ = tool.run(folder, arguments, FAIL_AT="0", **preload)
            assert code == 0, error
            number = int(log.read_text().split()[0])
            tried = 0
            for at in range(asked.first, number + 1, asked.every):
                fresh(base, folder)
                code, error, _ = tool.run(folder, arguments, FAIL_AT=str(at), **preload)
                what = log.read_text().split()[1] if log.exists() else "?"
                failed[what] += 1
                tried += 1
                name = f"{command}, call {at} of {number} ({log.read_text().strip() if log.exists() else '?'})"
                tries.judge(name, folder, before, place, code, error)
                if code != 0 and tried % asked.recover == 0:
                    tries.go_on(name, tool, folder, arguments, place)
                elif left_beside(folder) and place == "out":
                    # Tidying failed: the next run tidies.
                    tries.go_on(name, tool, folder, [*RUN, "--charts", "none"], place)
            print(f"{command}: {tried} of {number} calls failed once", flush=True)
        print("calls by name:", dict(failed.most_common()))
    finally:
        shutil.rmtree(work, ignore_errors=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("tool")
    parser.add_argument("what", choices=["space", "calls"])
    parser.add_argument("library", nargs="?")
    parser.add_argument("--step", type=int, default=64)
    parser.add_argument("--from", dest="first", type=int, default=1)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--errno", type=int, default=28)
    parser.add_argument("--recover", type=int, default=1, help="after every so many tries the next run is made")
    parser.add_argument("--only")
    asked = parser.parse_args()
    tries, began = Tries(), time.monotonic()
    try:
        (space if asked.what == "space" else calls)(Tool(asked.tool), asked, tries)
    except KeyboardInterrupt:
        print("stopped before the end")
    print(f"{asked.what}: {sum(tries.count.values())} tries, exit codes {dict(tries.count)}, wrong: {len(tries.wrong)}; "
          f"{time.monotonic() - began:.0f} s")
    sys.exit(1 if tries.wrong else 0)


if __name__ == "__main__":
    main()
