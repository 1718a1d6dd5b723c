#!/usr/bin/env python3
"""summary.py RESULTS.tsv [PAGE.md]: medians of the runs and their ratios to the best comparison program, as a Markdown table.

RESULTS.tsv: name, rows, wall seconds, processor seconds, peak MiB; a line a run. With PAGE.md the table replaces what stands there
between <!-- results --> and <!-- /results -->. A ratio below 1 means less time or memory than the best of the other programs.
"""
import datetime
import os
import platform
import re
import statistics
import sys
from pathlib import Path


def is_rival(name):
    return "Outcomes" not in name and "floor" not in name


def cell(value, best, digits):
    return f"{value:,.{digits}f} ({value / best:.2f})"


def lines(results):
    runs = {}
    for line in Path(results).read_text(encoding="utf-8").splitlines():
        name, rows, *numbers = line.split("\t")
        runs.setdefault(int(rows), {}).setdefault(name, []).append([float(number) for number in numbers])
    number_of_runs = {len(each) for programs in runs.values() for each in programs.values()}
    yield (f"Measured {datetime.date.today()} on {os.cpu_count()} cores ({platform.machine()}, {platform.system()}), medians of "
           f"{' to '.join(map(str, sorted(number_of_runs)))} runs. In brackets the ratio to the best comparison program.")
    for rows in sorted(runs):
        medians = {name: [statistics.median(column) for column in zip(*each)] for name, each in runs[rows].items()}
        best = [min(values[i] for name, values in medians.items() if is_rival(name)) for i in range(3)]
        yield ""
        yield f"### {rows:,} rows, {'20 charts' if rows <= 1000 else 'no charts'}"
        yield ""
        yield "| program | wall s | processor s | peak MiB |"
        yield "| --- | ---: | ---: | ---: |"
        for name, (wall, processor, peak) in medians.items():
            yield f"| {name} | {cell(wall, best[0], 2)} | {cell(processor, best[1], 2)} | {cell(peak, best[2], 0)} |"


def main():
    text = "\n".join(lines(sys.argv[1])) + "\n"
    if len(sys.argv) == 2:
        print(text, end="")
        return
    page = Path(sys.argv[2])
    changed, n = re.subn(r"(?s)(<!-- results -->\n).*?(<!-- /results -->)", lambda match: match[1] + text + match[2], page.read_text(encoding="utf-8"))
    if n != 1:
        raise SystemExit(f"{page} has no place for the results")
    page.write_text(changed, encoding="utf-8")


if __name__ == "__main__":
    main()
