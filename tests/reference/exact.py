"""Reference tables that count every arrangement in whole numbers: tables with given margins, and orders with a given number of runs."""
import itertools
import math
from fractions import Fraction

import numpy as np
from statsmodels.sandbox.stats.runs import runstest_1samp


def tables_of(rows, columns):
    """Every table with these margins, by recursion over its rows."""
    if len(rows) == 1:
        yield [columns]
        return

    def row(left, limits):
        if not limits:
            if left == 0:
                yield []
            return
        for cell in range(min(left, limits[0]) + 1):
            for rest in row(left - cell, limits[1:]):
                yield [cell] + rest
    for first in row(rows[0], columns):
        for rest in tables_of(rows[1:], [total - cell for total, cell in zip(columns, first)]):
            yield [first] + rest


def tables(random, count):
    """Freeman-Halton: SciPy 1.10 has two rows and columns only; every table is counted here in whole numbers, ties and all."""
    for _ in range(count):
        cells = random.randint(0, 4, size=(random.randint(2, 5), random.randint(2, 4)))
        while (cells.sum(0) == 0).any() or (cells.sum(1) == 0).any() or cells.sum() > 16:
            cells = random.randint(0, 4, size=cells.shape) * (random.uniform(size=cells.shape) < 0.7)
        # N! / prod x! is whole: the number of orders of the records that make a table, in proportion to its probability.
        def ways(table):
            return math.factorial(int(cells.sum())) // math.prod(math.factorial(int(x)) for line in table for x in line)
        seen = ways(cells)
        all_ways = [ways(table) for table in tables_of(cells.sum(1).tolist(), cells.sum(0).tolist())]
        p, chance = Fraction(sum(x for x in all_ways if x <= seen), sum(all_ways)), Fraction(seen, sum(all_ways))
        yield [";".join(" ".join(map(str, line)) for line in cells), float(p), float(p - chance / 2), float(chance)]


def runs(random, count):
    """The number of runs: all orders counted step by step in whole numbers, no closed form; z from statsmodels' one-sample runs test."""
    for _ in range(count):
        first, second = int(random.randint(1, 60)), int(random.randint(1, 60))
        order = random.permutation([1] * first + [0] * second)
        seen = 1 + int((np.diff(order) != 0).sum())
        # ways[r] of i of the first and j of the second kind that end in the first, and in the second.
        ends = {(1, 0): ([0, 1], []), (0, 1): ([], [0, 1])}

        def add(a, b):
            return [x + y for x, y in itertools.zip_longest(a, b, fillvalue=0)]
        for i in range(first + 1):
            for j in range(second + 1):
                if i + j > 1:
                    one, two = ends.get((i - 1, j), ([], [])), ends.get((i, j - 1), ([], []))
                    ends[i, j] = (add(one[0], [0] + one[1]), add(two[1], [0] + two[0]))
        ways = add(*ends[first, second])
        total = sum(ways)
        # Its correction of half a run stops below 50 points; without it, z is the plain one.
        yield [first, second, seen, runstest_1samp(order, 0.5, correction=False)[0], float(Fraction(sum(ways[:seen + 1]), total)), float(Fraction(sum(ways[seen:]), total))]
