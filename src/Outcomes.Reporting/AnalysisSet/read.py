"""Loads the analysis set beside this file, and prints the headline table of its month's report as CSV.

Python 3.9 or later, standard library alone: `python3 read.py`. In a notebook: `import read; tables = read.load()`.
Each table is a list of dicts: yes and no are True and False, an empty cell is None, and its reason stands in the column of the same name
with _missing. With pandas: `pandas.DataFrame(tables["procedure"])`, or `pandas.read_parquet("parquet/procedure.parquet")`.

For audit, teaching and improvement: not for bedside decisions, not for judging an individual. Records are personal data of the department.
"""

import csv
import math
import os
import sys
from statistics import NormalDist

MONTH, FROM = "@MONTH@", "@FROM@"
FOLDER = os.path.dirname(os.path.abspath(__file__))


def rows(name):
    """The rows of a CSV file as texts."""
    with open(os.path.join(FOLDER, name + ".csv"), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def load(labelled=False):
    """All tables by name, with typed cells; labelled: coded values are replaced by what people read."""
    types, labels = {}, {}
    for row in rows("codebook"):
        types.setdefault(row["table"], {})[row["column"]] = row["type"]
    for row in rows("labels") if labelled else []:
        labels[row["table"], row["column"], row["value"]] = row["label"]
    return {table: [{column: labels.get((table, column, cell), typed(cell, columns[column])) for column, cell in row.items()}
                    for row in rows(table)] for table, columns in types.items()}


def typed(cell, kind):
    """A cell as its type."""
    if cell == "":
        return None
    return {"yes/no": lambda: cell == "yes", "integer": lambda: int(cell), "number": lambda: float(cell)}.get(kind, lambda: cell)()


def student(level, degrees):
    """The two-sided quantile of Student's t for whole degrees of freedom (Abramowitz and Stegun 1964, 26.7.3 and 26.7.4)."""
    def inside(t):
        angle, cosine = math.atan(t / math.sqrt(degrees)), math.cos(math.atan(t / math.sqrt(degrees)))
        term, total = (cosine, 0.0) if degrees % 2 else (1.0, 0.0)
        for k in range(3 if degrees % 2 else 2, degrees + 1, 2):
            total += term
            term *= cosine * cosine * (k - 1) / k
        return 2 / math.pi * (angle + math.sin(angle) * total) if degrees % 2 else math.sin(angle) * total
    low, high = 0.0, 1e4
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if inside(middle) < level else (low, middle)
    return (low + high) / 2


def year_interval(months):
    """Wilson's 95 % interval of all months; wider, with True, where months vary more than chance alone (Pearson dispersion above 1)."""
    months = [(x, n) for x, n in months if n > 0]
    met, cases = sum(x for x, _ in months), sum(n for _, n in months)
    rate, z, dispersion = (met + 0.5) / (cases + 1), NormalDist().inv_cdf(0.975), 1.0
    if len(months) > 1:
        varies = sum((x - n * rate) ** 2 / (n * rate * (1 - rate)) for x, n in months) / (len(months) - 1)
        if varies > 1:
            dispersion, z = varies, student(0.95, len(months) - 1)
    x, n = met / dispersion, cases / dispersion
    centre = (x + z * z / 2) / (n + z * z)
    half = z * math.sqrt(x * (n - x) / n + z * z / 4) / (n + z * z)
    value = met / cases
    return (0.0 if met == 0 else min(max(centre - half, 0), value), 1.0 if met == cases else max(min(centre + half, 1), value),
            dispersion > 1)


def bare(value, per):
    text = f"{half_away(value * per):.1f}"
    return "<0.1" if value > 0 and text == "0.0" else f">{per - 1}.9" if value < 1 and text == f"{per}.0" else text


def half_away(value):
    return math.floor(value * 10 + 0.5 + 1e-9) / 10


def headline(tables):
    """The headline table: measure, this month, last 12 months with interval and missing records."""
    table = []
    for measure in tables["measure_definitions"]:
        if not (measure["headline"] and measure["answered"] and measure["kind"] == "proportion"):
            continue
        per, months, missing = measure["per"], {}, 0
        unit = "%" if per == 100 else f"per {per:,}"
        for row in tables["measures"]:
            if row["measure"] == measure["measure"] and FROM <= row["month"] <= MONTH:
                met, eligible = months.get(row["month"], (0, 0))
                months[row["month"]] = (met + (row["met"] is True), eligible + (row["eligible"] is True))
                missing += row["missing"]
        met, eligible = months.get(MONTH, (0, 0))
        month = f"{met:,}/{eligible:,}" if eligible else "none eligible"
        met, eligible = (sum(part) for part in zip(*months.values())) if months else (0, 0)
        year = "none eligible"
        if eligible:
            lower, upper, varies = year_interval(list(months.values()))
            year = (f"{met:,}/{eligible:,}, {bare(met / eligible, per)} {unit} ({bare(lower, per)} to {bare(upper, per)} {unit})"
                    + ("*" if varies else "") + (f"; {missing:,} missing" if missing else ""))
        table.append({"measure": measure["title"], "this_month": month, "last_12_months": year})
    return table


if __name__ == "__main__":
    out = csv.DictWriter(sys.stdout, ["measure", "this_month", "last_12_months"], lineterminator="\n")
    out.writeheader()
    out.writerows(headline(load()))
