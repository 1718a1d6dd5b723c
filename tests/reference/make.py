#!/usr/bin/env python3
"""Makes the reference tables of tests/fixtures/reference with SciPy and statsmodels; make.R adds those of R.

    python3 tests/reference/make.py [FOLDER [TABLE]] (Debian: python3-scipy python3-statsmodels)
    Rscript tests/reference/make.R [FOLDER]         (Debian: r-base-core), after it: it reads the inputs from here

A thousand random inputs a table, from a fixed seed. An empty cell is one for which the library has no answer or another
convention; the line above its column says which. Where no library has the statistic, its defining equation is solved with a
general root finder, in a form other than the one in src/.
"""
import csv
import os
import sys
import warnings

import numpy as np
from scipy import optimize, stats
from scipy.stats.contingency import odds_ratio
from statsmodels.stats import contingency_tables as tables
from statsmodels.stats import proportion
from statsmodels.stats.inter_rater import cohens_kappa

import exact

ROWS = 1000
LEVELS = [0.8, 0.9, 0.95, 0.99]
FOLDER = sys.argv[1] if len(sys.argv) > 1 else os.path.join(os.path.dirname(__file__), "..", "fixtures", "reference")
warnings.filterwarnings("ignore")


def text(value):
    if isinstance(value, (str, int, np.integer)):
        return str(value)
    return "" if np.isnan(value) else format(float(value), ".13g")


def write(name, header, rows):
    with open(os.path.join(FOLDER, name + ".csv"), "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split())
        out.writerows([text(value) for value in row] for row in rows)


def root(function, low, high):
    """The root between low and high; NaN where the signs do not differ."""
    try:
        return optimize.brentq(function, low, high, xtol=1e-300, rtol=1e-14, maxiter=1000)
    except (ValueError, RuntimeError):
        return np.nan


def expit(t):
    return 1 / (1 + np.exp(-t)) if t > 0 else np.exp(t) / (1 + np.exp(t))


def on_log_odds(function):
    """The proportion at which the function is 0."""
    t = root(lambda t: function(expit(t)), -35.0, 35.0)
    return expit(t)


def proportions(random):
    for _ in range(ROWS):
        n = int(np.exp(random.uniform(0, np.log(1e5))))
        k = int(random.randint(0, n + 1)) if random.uniform() < 0.7 else int(min(n, random.geometric(0.3) - 1))
        level = random.choice(LEVELS)
        tail = (1 - level) / 2
        row = [k, n, level]
        for method in ("wilson", "beta", "agresti_coull"):
            low, high = proportion.proportion_confint(k, n, 1 - level, method)
            # statsmodels leaves rounding errors, and NaN for the exact interval, at 0 and n: those ends are 0 and 1 by definition.
            row += [0 if k == 0 and method != "agresti_coull" else max(low, 0), 1 if k == n and method != "agresti_coull" else min(high, 1)]
        low, high = proportion.proportion_confint(k, n, 1 - level, "jeffreys")
        # statsmodels does not set the ends to 0 and 1 when none or all met.
        row += [0 if k == 0 else low, 1 if k == n else high]
        # mid-P: no library here has it.
        row += [0 if k == 0 else on_log_odds(lambda p: stats.binom.sf(k, n, p) + stats.binom.pmf(k, n, p) / 2 - tail),
                1 if k == n else on_log_odds(lambda p: stats.binom.cdf(k - 1, n, p) + stats.binom.pmf(k, n, p) / 2 - tail)]
        # likelihood: from the binomial log density, no closed form.
        half = stats.chi2.ppf(level, 1) / 2
        best = stats.binom.logpmf(k, n, k / n) if 0 < k < n else 0.0

        def drop(p):
            return best - (stats.binom.logpmf(k, n, p)) - half
        low = root(drop, 1e-300, k / n) if k > 0 else 0
        high = root(drop, k / n, 1 - 1e-16) if k < n else 1
        yield row + [low, high]


def rates(random):
    for _ in range(ROWS):
        k, exposure, level = int(np.exp(random.uniform(0, np.log(1e5)))) - 1, round(float(np.exp(random.uniform(-3, 6))), 3), random.choice(LEVELS)
        tail = (1 - level) / 2
        yield [k, exposure, level, stats.gamma.ppf(tail, k) / exposure if k else 0, stats.gamma.isf(tail, k + 1) / exposure]


def score_difference(x1, n1, x2, n2, delta):
    """Score statistic of a difference; the likeliest pair from the root of the derivative of the log-likelihood."""
    low, high = max(0.0, -delta), min(1.0, 1 - delta)

    def part(count, share):
        return count / max(share, 1e-18) if count else 0

    def slope(p):
        q = p + delta
        return part(x1, q) - part(n1 - x1, 1 - q) + part(x2, p) - part(n2 - x2, 1 - p)
    inside = (high - low) * 1e-13
    a, b = slope(low + inside), slope(high - inside)
    p = low if a <= 0 else high if b >= 0 else optimize.brentq(slope, low + inside, high - inside, xtol=1e-300, rtol=1e-15, maxiter=1000)
    q = p + delta
    variance = q * (1 - q) / n1 + p * (1 - p) / n2
    return (x1 / n1 - x2 / n2 - delta) / np.sqrt(variance)


def differences(x1, n1, x2, n2, z):
    value, n = x1 / n1 - x2 / n2, n1 + n2
    for factor in (1, n / (n - 1)):
        at = z * np.sqrt(factor)
        yield -1 if value == -1 else root(lambda d: score_difference(x1, n1, x2, n2, d) - at, -1 + 1e-12, value - 1e-12)
        yield 1 if value == 1 else root(lambda d: score_difference(x1, n1, x2, n2, d) + at, value + 1e-12, 1 - 1e-12)


def score_ratio(x1, n1, x2, n2, ratio):
    high = min(1.0, 1 / ratio)

    def slope(p):
        q = ratio * p
        return (x1 - n1 * q) / (1 - q) + (x2 - n2 * p) / (1 - p)
    p = root(slope, 1e-300, high * (1 - 1e-15))
    q = ratio * p
    return (x1 / n1 - ratio * x2 / n2) / np.sqrt(q * (1 - q) / n1 + ratio ** 2 * p * (1 - p) / n2)


def score_odds(x1, n1, x2, n2, log_odds):
    # Given the odds ratio the expected total met is the one seen: solved for the log odds of the second group.
    u = root(lambda u: n1 * expit(u + log_odds) + n2 * expit(u) - x1 - x2, -60.0, 60.0)
    q, p = expit(u + log_odds), expit(u)
    n = n1 + n2
    return (x1 - n1 * q) * np.sqrt((1 / (n1 * q * (1 - q)) + 1 / (n2 * p * (1 - p))) * (n - 1) / n)


def pairs(random):
    for _ in range(ROWS):
        n1, n2 = int(random.randint(2, 200)), int(random.randint(2, 200))
        x1, x2, level = int(random.randint(0, n1 + 1)), int(random.randint(0, n2 + 1)), random.choice(LEVELS)
        tail, z = (1 - level) / 2, stats.norm.isf((1 - level) / 2)
        row = [x1, n1, x2, n2, level]
        for method in ("newcomb", "agresti-caffo", "wald"):
            low, high = proportion.confint_proportions_2indep(x1, n1, x2, n2, method=method, alpha=1 - level)
            row += [max(low, -1), min(high, 1)]
        # statsmodels' own score interval is another one (0.05255 to 0.34404 for 56/70 and 48/80, published 0.0533 to 0.3377) and fails on empty cells.
        row += list(differences(x1, n1, x2, n2, z))
        table = tables.Table2x2(np.array([[x1, n1 - x1], [x2, n2 - x2]]), shift_zeros=False)
        inner = 0 < x1 < n1 and 0 < x2 < n2
        row += list(table.riskratio_confint(1 - level)) if x1 and x2 else [np.nan, np.nan]
        row += list(table.oddsratio_confint(1 - level)) if inner else [np.nan, np.nan]
        if inner:
            ratio, odds = np.log(x1 / n1 / (x2 / n2)), np.log(x1 * (n2 - x2) / (x2 * (n1 - x1)))
            row += [np.exp(root(lambda t: score_ratio(x1, n1, x2, n2, np.exp(t)) - z, ratio - 12, ratio)),
                    np.exp(root(lambda t: score_ratio(x1, n1, x2, n2, np.exp(t)) + z, ratio, ratio + 12)),
                    np.exp(root(lambda t: score_odds(x1, n1, x2, n2, t) - z, odds - 12, odds)),
                    np.exp(root(lambda t: score_odds(x1, n1, x2, n2, t) + z, odds, odds + 12))]
        else:
            row += [np.nan] * 4
        # SciPy's search for the exact limits starts from the cells and is left with its own tolerance; R's stops at 1e-4 and is no reference.
        grid = [[x1, n1 - x1], [x2, n2 - x2]]
        m = x1 + x2
        least, most = max(0, m - n2), min(n1, m)

        def law(name, k, t):
            return getattr(stats.nchypergeom_fisher, name)(k, n1 + n2, n1, m, np.exp(t))
        if least < x1 < most:
            found = odds_ratio(grid, kind="conditional")
            row += [found.statistic, *found.confidence_interval(level)]
            start = np.log(found.statistic)
            row += [np.exp(root(lambda t: law('sf', x1, t) + law('pmf', x1, t) / 2 - tail, start - 8, start)),
                    np.exp(root(lambda t: law('cdf', x1 - 1, t) + law('pmf', x1, t) / 2 - tail, start, start + 8))]
        else:
            row += [np.nan] * 5
        row += [stats.fisher_exact(grid, side)[1] for side in ("two-sided", "less", "greater")]
        yield row


def strata(random):
    for _ in range(ROWS):
        cells = random.randint(0, 60, size=(random.randint(2, 6), 4)) + 1
        level = random.choice(LEVELS)
        table = tables.StratifiedTable([cell.reshape(2, 2) for cell in cells])
        plain, equal, tarone = table.test_null_odds(correction=False), table.test_equal_odds(adjust=False), table.test_equal_odds(adjust=True)
        yield [";".join(" ".join(map(str, cell)) for cell in cells), level, table.oddsratio_pooled, *table.oddsratio_pooled_confint(1 - level),
               table.riskratio_pooled, plain.statistic, plain.pvalue, equal.statistic, equal.pvalue, tarone.statistic, tarone.pvalue]


def shares(random):
    for _ in range(ROWS):
        counts, level = random.randint(0, 16, size=random.randint(2, 6)), random.choice(LEVELS)
        counts[0] += 1
        goodman = proportion.multinomial_proportions_confint(counts, 1 - level, "goodman")
        yield [" ".join(map(str, counts)), level] + [" ".join(text(x) for x in ends) for ends in (goodman[:, 0], goodman[:, 1])]


def quantiles(random):
    for _ in range(ROWS):
        values = np.sort(random.choice(200, size=random.randint(1, 12), replace=False))
        counts = random.randint(1, 30, size=len(values))
        p, level = round(random.uniform(0.05, 0.95), 3), random.choice(LEVELS)
        n, tail = int(counts.sum()), (1 - level) / 2
        # The highest rank l with P(X < l) <= tail is the binomial quantile, save where the tail is met exactly.
        low = max(r for r in range(n + 1) if r == 0 or stats.binom.cdf(r - 1, n, p) <= tail)
        high = min(r for r in range(1, n + 2) if r == n + 1 or stats.binom.sf(r - 1, n, p) <= tail)
        yield [" ".join(f"{v}:{c}" for v, c in zip(values, counts)), p, level, np.quantile(np.repeat(values, counts), p), low, high]


def moments(random):
    for _ in range(ROWS):
        values = np.round(random.normal(100 * random.uniform(0, 10), 10, size=random.randint(2, 12)), 2)
        level = random.choice(LEVELS)
        # SciPy 1.10's own quantile of Student's distribution is right to 1e-9 only (3.24983554402 for 9 degrees and 0.995, R: 3.24983554159): by way of the beta one.
        x = stats.beta.ppf(1 - level, (len(values) - 1) / 2, 0.5)
        half = np.sqrt((len(values) - 1) * (1 - x) / x) * stats.sem(values)
        low, high = values.mean() - half, values.mean() + half
        yield [" ".join(map(str, values)), level, values.mean(), values.std(ddof=1), low, high]


def agreements(random):
    for _ in range(ROWS):
        k = random.randint(2, 5)
        cells = random.randint(0, 30, size=(k, k)) + np.diag(random.randint(1, 30, size=k))
        row = [";".join(" ".join(map(str, line)) for line in cells)]
        for weights in (None, "linear", "quadratic"):
            found = cohens_kappa(cells, wt=weights)
            row += [found.kappa, found.std_kappa]
        yield row


def main():
    os.makedirs(FOLDER, exist_ok=True)
    made = [
        ("proportion", "met eligible level wilson_lower wilson_upper exact_lower exact_upper agresti_coull_lower agresti_coull_upper jeffreys_lower jeffreys_upper "
         "mid_p_lower mid_p_upper likelihood_lower likelihood_upper", proportions),
        ("rate", "events exposure level lower upper", rates),
        ("pair", "x1 n1 x2 n2 level newcombe_lower newcombe_upper agresti_caffo_lower agresti_caffo_upper wald_lower wald_upper mee_lower mee_upper "
         "miettinen_nurminen_lower miettinen_nurminen_upper katz_lower katz_upper woolf_lower woolf_upper risk_score_lower risk_score_upper "
         "odds_score_lower odds_score_upper exact_odds exact_lower exact_upper mid_p_lower mid_p_upper fisher_two_sided fisher_less fisher_greater", pairs),
        ("strata", "tables level odds_ratio odds_lower odds_upper risk_ratio cmh cmh_p breslow_day breslow_day_p tarone tarone_p", strata),
        ("share", "counts level goodman_lower goodman_upper", shares),
        ("quantile", "values p level value lower_rank upper_rank", quantiles),
        ("moments", "values level mean deviation lower upper", moments),
        ("kappa", "table none none_error linear linear_error quadratic quadratic_error", agreements),
        ("exact_table", "table p mid_p chance", lambda random: exact.tables(random, ROWS)),
        ("runs", "first second runs z at_most at_least", lambda random: exact.runs(random, ROWS)),
    ]
    for i, (name, header, rows) in enumerate(made):
        if len(sys.argv) > 2 and name not in sys.argv[2:]:
            continue
        write(name, header, list(rows(np.random.RandomState(20260301 + i))))


if __name__ == "__main__":
    main()
