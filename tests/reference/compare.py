"""Compares two folders of reference tables number by number; text and empty cells must be the same."""
import csv
import os
import re
import sys

committed, made = sys.argv[1:]
TOLERANCE = 1e-10  # Libraries and processors differ in the last digits; the tests in C# ask for 1e-9.


def numbers(cell):
    return re.split(r"[ ;:]", cell)


def same(a, b):
    if a == b:
        return True
    try:
        x, y = float(a), float(b)
    except ValueError:
        return False
    return abs(x - y) <= max(TOLERANCE * abs(x), 1e-12)


differences = 0
names = sorted(name for name in set(os.listdir(committed)) | set(os.listdir(made)) if name.endswith(".csv"))
for name in names:
    try:
        tables = [list(csv.reader(open(os.path.join(folder, name), newline=""))) for folder in (committed, made)]
    except FileNotFoundError as error:
        sys.exit(f"{error.filename} is missing")
    if len(tables[0]) != len(tables[1]):
        sys.exit(f"{name}: {len(tables[0])} lines committed, {len(tables[1])} made")
    for line, (left, right) in enumerate(zip(*tables), 1):
        for column, a, b in zip(tables[0][0], left, right):
            parts = numbers(a), numbers(b)
            if len(parts[0]) != len(parts[1]) or not all(map(same, *parts)):
                differences += 1
                if differences <= 20:
                    print(f"{name}, line {line}, {column}: committed {a}, made {b}")
print(f"{len(names)} tables compared, {differences} cells differ")
sys.exit(1 if differences else 0)
