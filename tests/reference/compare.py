"""Compares two folders of reference tables (CSV and JSON) number by number; text and empty cells must be the same.

    compare.py COMMITTED MADE TOLERANCE
"""
import csv
import json
import os
import re
import sys

committed, made, tolerance = sys.argv[1], sys.argv[2], float(sys.argv[3])


def same(a, b):
    if a == b:
        return True
    try:
        x, y = float(a), float(b)
    except (TypeError, ValueError):
        return False
    return abs(x - y) <= max(tolerance * abs(x), 1e-12)


def cells(path):
    """Yields (where, value) for every number and word of a file; a CSV cell may hold several numbers."""
    with open(path, newline="") as file:
        if path.endswith(".json"):
            yield from leaves("", json.load(file))
            return
        head, *rows = csv.reader(file)
        yield from enumerate(head)
        for line, row in enumerate(rows, 2):
            for column, cell in zip(head, row, strict=True):
                for i, part in enumerate(re.split(r"[ ;:]", cell)):
                    yield (line, column, i), part


def leaves(where, value):
    children = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else None
    if children is None:
        yield where, value
    else:
        for key, child in children:
            yield from leaves(f"{where}/{key}", child)


differences = 0
folders = [{name for name in os.listdir(folder) if name.endswith((".csv", ".json"))} for folder in (committed, made)]
for name in sorted(folders[0] ^ folders[1]):
    print(f"{name} is only in the {'committed' if name in folders[0] else 'made'} folder")
    differences += 1
for name in sorted(folders[0] & folders[1]):
    left, right = (list(cells(os.path.join(folder, name))) for folder in (committed, made))
    if [where for where, _ in left] != [where for where, _ in right]:
        print(f"{name}: {len(left)} values committed, {len(right)} made, not at the same places")
        differences += 1
        continue
    for (where, a), (_, b) in zip(left, right):
        if not same(a, b):
            differences += 1
            if differences <= 20:
                print(f"{name}, {where}: committed {a}, made {b}")
print(f"{len(folders[0])} tables of {committed} compared, {differences} differences")
sys.exit(1 if differences else 0)
