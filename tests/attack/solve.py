"""What an attacker can conclude: whole unknown numbers, sums of them known to lie between bounds, and for each protected cell the least
and the most that agrees with all of it, by integer programming (HiGHS, through scipy.optimize.milp)."""
import random

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix


class Untrue(Exception):
    """What the attacker believes does not hold in the department: the attack is wrong, and its silence would prove nothing."""


class System:
    def __init__(self, variables):
        self.variables = variables
        self.rows, self.low, self.high, self.why = [], [], [], []

    def know(self, terms, low, high, why="the same records"):
        """terms: {variable: coefficient}"""
        self.why.append(why)
        self.rows.append(terms)
        self.low.append(low)
        self.high.append(high)

    def solve_for(self, cells, truth, threshold, seed):
        """cells: sums of variables as lists. The places of those that are known to a width below the threshold."""
        matrix = _matrix(self.rows, self.variables)
        low, high = np.array(self.low, float), np.array(self.high, float)
        real = matrix @ truth
        if np.any(real < low - 1e-6) or np.any(real > high + 1e-6):
            at = int(np.argmax((real < low - 1e-6) | (real > high + 1e-6)))
            raise Untrue(f"{self.why[at]}: {real[at]} is not within {low[at]} and {high[at]}")
        if not cells:
            return []
        wanted = _matrix([dict.fromkeys(cell, 1) for cell in cells], self.variables)
        least = wanted @ truth
        most = least.copy()
        limits = LinearConstraint(matrix, low, high)
        draw = random.Random(seed)

        def find(goal, gap, seconds):
            """Asks for the most of a sum; True when the answer is final. A corner of the relaxed problem is mostly whole already."""
            for whole in (0, 1):
                found = milp(-goal, constraints=limits, integrality=np.full(self.variables, whole), bounds=Bounds(0, 10_000),
                             options={"mip_rel_gap": gap, "time_limit": seconds})
                if found.x is None:
                    return False
                x = np.round(found.x)
                sums = matrix @ x
                # A solver's slack must not pass for an answer.
                if np.abs(x - found.x).max() < 1e-6 and np.all(sums >= low - 1e-6) and np.all(sums <= high + 1e-6):
                    values = wanted @ x
                    np.minimum(least, values, out=least)
                    np.maximum(most, values, out=most)
                    return found.status == 0
            return False

        # Every answer is a department that the files allow: most cells are seen to be wide without a question of their own.
        for turn in range(12):
            unsafe = np.flatnonzero(most - least < threshold)
            if not len(unsafe):
                return []
            signs = [1 if turn == 0 else -1 if turn == 1 else draw.choice((-1, 1)) for _ in unsafe]
            find(wanted[unsafe].T @ np.array(signs, float), .3, 2.0)
        recovered = []
        for at in range(len(cells)):
            if most[at] - least[at] >= threshold:
                continue
            goal = np.asarray(wanted[at].todense(), float).ravel()
            # A busy machine may need longer: what the solver has no time for is not recovered.
            for seconds in (10.0, 120.0):
                sure = find(goal, 0, seconds)
                if most[at] - least[at] < threshold:
                    sure = find(-goal, 0, seconds) and sure
                if sure or most[at] - least[at] >= threshold:
                    break
            if most[at] - least[at] < threshold:
                recovered.append((at, int(least[at]), int(most[at]), sure))
        return recovered


def _matrix(rows, columns):
    indices = [(i, v, c) for i, row in enumerate(rows) for v, c in row.items()]
    i, v, c = zip(*indices) if indices else ((), (), ())
    return csr_matrix((np.array(c, float), (i, v)), shape=(len(rows), columns))
