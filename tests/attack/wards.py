"""Small invented departments by a seed: their records as a CSV file, and what each record is to each measure.

The measures are nested on purpose (two or more attempts holds three or more, failed first pass nearly is two or more attempts, saturations below
80, 85 and 90, success of plan B among those whom plan B was used for): what is published of one says something of the others. How a record counts is
worked out here from the catalogue's text (missing is never "no"), independently of the tool.
"""
import csv
import itertools
import random

MET, NOT, MISSING = 0, 1, 2
PARTS = ("met", "not", "missing")
LEVELS = {
    "location_type": ("icu", "ed", "ward", "theatre", "(missing)"),
    "infection_status": ("confirmed", "suspected", "not_suspected", "(missing)"),
}


def _three(condition):
    return MISSING if condition is None else MET if condition else NOT


def _attempts(attempts, first_pass):
    known = None if attempts is None else attempts >= 2
    success = first_pass if first_pass is not None else False if known else None
    return {
        "attempts_2_plus": _three(known),
        "attempts_3_plus": _three(None if attempts is None else attempts >= 3),
        # Without attempts and first pass it is unknown whether the first airway was an intubation attempt: missing.
        "first_pass": _three(success),
    }


def _plan_b(plan_b):
    used = None if plan_b is None else plan_b != "not_used"
    parts = {"plan_b_used": _three(used)}
    if used is not False:
        parts["plan_b_success"] = _three(None if plan_b is None else plan_b == "succeeded")
    return parts


def _oxygen(arrest, pre, low):
    def judged(eligible, met):
        if False in eligible:
            return None
        return MISSING if None in eligible else _three(met)

    no_arrest = None if arrest is None else not arrest
    below = lambda value, limit: None if value is None else value < limit
    at_least = lambda value, limit: None if value is None else value >= limit
    # Both fields of the condition's met are known or the record is missing; eligible is judged first.
    all_of_it = {
        "spo2_below_90": judged([no_arrest, at_least(pre, 90)], below(low, 90)),
        "spo2_below_85": judged([no_arrest], below(low, 85)),
        "spo2_below_80": judged([no_arrest, at_least(pre, 80)], below(low, 80)),
        "hypoxaemic_at_induction": judged([no_arrest], below(pre, 90)),
    }
    return {measure: part for measure, part in all_of_it.items() if part is not None}


# Of each group: how a record counts, and every combination of values that can occur.
GROUPS = (
    (_attempts, [(1, True), (1, False), (1, None), (2, None), (3, None), (None, True), (None, False), (None, None)]),
    (_plan_b, [("not_used",), ("succeeded",), ("failed",), (None,)]),
    (_oxygen, [(arrest, pre, low) for arrest, pre, low in itertools.product((False, True, None), (97, 88, None), (96, 87, 82, 75, None))
               if not (pre == 88 and low == 96)]),
    (lambda fona: {"front_of_neck": _three(fona)}, [(True,), (False,), (None,)]),
    (lambda brief: {"team_brief": MET if brief else NOT}, [(True,), (False,)]),
)
MEASURES = ("first_pass", "spo2_below_90", "team_brief", "attempts_2_plus", "attempts_3_plus", "front_of_neck", "hypoxaemic_at_induction",
            "plan_b_success", "plan_b_used", "spo2_below_80", "spo2_below_85")


def atoms():
    """The kinds of record of each group: combinations that count alike are one. [group][kind] = {measure: part}"""
    kinds = []
    for count, values in GROUPS:
        distinct = {tuple(sorted(count(*value).items())): None for value in values}
        kinds.append([dict(kind) for kind in distinct])
    return kinds


def department(seed):
    """months, records; a record is (month, day, values of each group, level of each stratum)."""
    draw = random.Random(seed)
    months, per_month = 6 + seed % 25, draw.choice((1, 1, 3)) * (2 + draw.randrange(20))
    rate = lambda *of: draw.choice(of)
    second, third, b, success, arrest, low, fona, brief = (
        rate(.1, .2, .4), rate(.2, .5), rate(.05, .2), rate(.3, .8), rate(.02, .1), rate(.1, .3, .6), rate(.005, .03), rate(.3, .8, .97))
    unknown = rate(0, .02, .1)
    records = []
    maybe = lambda value: None if draw.random() < unknown else value
    for month in range(months):
        for _ in range(draw.randrange(2 * per_month + 1)):
            attempts = 1 if draw.random() > second else 2 if draw.random() > third else 3
            known = maybe(attempts)
            first = maybe(draw.random() < .97) if known == 1 else None if known else maybe(attempts == 1)
            pre = maybe(88 if draw.random() < .15 else 97)
            least = maybe(draw.choice((87, 82, 75)) if draw.random() < low or pre == 88 else 96)
            values = (
                (known, first),
                (maybe("not_used" if draw.random() > b else "succeeded" if draw.random() < success else "failed"),),
                (maybe(draw.random() < arrest), pre, least),
                (maybe(draw.random() < fona),),
                (maybe(draw.random() < brief),),
            )
            levels = tuple(draw.choice(names[:1] * 4 + names[1:2] * 2 + names[2:]) for names in LEVELS.values())
            records.append((month, 1 + draw.randrange(28), values, levels))
    return months, records


def yes_no(value):
    return "" if value is None else "yes" if value else "no"


def text(value):
    return "" if value is None else str(value)


def write(records, first_year, path):
    with open(path, "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(("id", "day", "attempts", "first", "plan_b", "arrest", "pre", "low", "fona", "brief", "place", "infection"))
        for number, (month, day, ((attempts, first), (plan_b,), (arrest, pre, low), (fona,), (brief,)), levels) in enumerate(records):
            place, infection = ("" if level == "(missing)" else level for level in levels)
            table.writerow((f"r{number}", f"{first_year + month // 12}-{month % 12 + 1:02}-{day:02}", text(attempts), yes_no(first), text(plan_b),
                            yes_no(arrest), text(pre), text(low), yes_no(fona), yes_no(brief), place, infection))
