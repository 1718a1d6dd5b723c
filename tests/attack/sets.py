"""Reads everything that a set for others says: tables, page, manifest, data package. Nothing else of the department is known here."""
import csv
import json
import math
import os
import re
from collections import namedtuple
from html.parser import HTMLParser

# Bounds of the true met, not met, eligible and missing of some months, of all records or of one level.
Fact = namedtuple("Fact", "measure first last stratum level met no eligible missing")
MONTHS = "January February March April May June July August September October November December".split()
FILES = {"datapackage.json", "report.html", "run.json", "tables/counts.csv", "tables/estimates.csv"}
MANIFEST = {"kind", "version", "tool", "pipeline", "pipeline_id", "as_of", "month", "audience", "threshold", "rounded_to", "earlier_reports_compared",
            "definitions_sha256", "complete", "measures", "files"}
Z = 1.959963984540054  # the 97.5th percentile of the normal distribution


class Unread(Exception):
    """A number in a set that this reader cannot place: it might be the one that gives a patient away."""


def read(folder):
    """The audience, the threshold, and every fact of a set."""
    files = {os.path.relpath(os.path.join(at, name), folder).replace(os.sep, "/") for at, _, names in os.walk(folder) for name in names}
    if files != FILES:
        raise Unread(f"files: {sorted(files ^ FILES)}")
    with open(os.path.join(folder, "run.json"), encoding="utf-8") as file:
        manifest = json.load(file)
    if set(manifest) != MANIFEST:
        raise Unread(f"run.json: {sorted(set(manifest) ^ MANIFEST)}")
    rule = (manifest["threshold"], manifest["rounded_to"])
    _package(folder)
    facts, shown = [], set()
    for row in _table(folder, "counts.csv"):
        met, eligible, missing = int(row["met"]), int(row["eligible"]), int(row["missing"])
        first, last = (_month(text) for text in (row["period"].split("/")[0], row["period"].split("/")[-1]))
        shown.add((row["measure"], first, last, row["stratum"], row["level"], met, eligible, missing))
        facts.append(_fact(row["measure"], first, last, row["stratum"], row["level"], met, eligible, missing, rule))
    for row in _table(folder, "estimates.csv"):
        met, eligible = int(row["met"]), int(row["eligible"])
        first, last = (_month(text) for text in (row["period"].split("/")[0], row["period"].split("/")[-1]))
        if (row["measure"], first, last, row["stratum"], row["level"], met, eligible, int(row["missing"])) not in shown:
            raise Unread("estimates.csv: a count that counts.csv does not hold")
        if eligible:
            facts.append(_inverted(row["measure"], first, last, row["stratum"], row["level"], (met, eligible),
                                   [float(row[name]) for name in ("value", "lower", "upper")], 1e-9, rule))
    facts += _page(folder, rule)
    return manifest["audience"], manifest["threshold"], [fact for fact in facts if fact and not _is_sum(fact, shown, rule)]


def _is_sum(fact, shown, rule):
    """A sum of rounded counts says no more than they do, and is off by more than half a step."""
    parts = {row[1:3]: row[5:] for row in shown if row[0] == fact.measure and row[3] == fact.stratum == "all" and row[1] >= fact.first
             and row[2] <= fact.last and row[1:3] != (fact.first, fact.last)}
    if rule[1] == 1 or not parts:
        return False
    whole = next((row[5:] for row in shown if row[:5] == (fact.measure, fact.first, fact.last, "all", "all")), None)
    if whole and whole != tuple(map(sum, zip(*parts.values()))):
        raise Unread(f"{fact}: a sum that is not the sum of {parts}")
    return True


def _table(folder, name):
    with open(os.path.join(folder, "tables", name), newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def _month(text):
    return int(text[:4]) * 12 + int(text[5:7]) - 1


def _fact(measure, first, last, stratum, level, met, eligible, missing, rule):
    threshold, step = rule
    half = step // 2
    # The page says the rule, so the attacker knows it: no part is ever small.
    least = lambda shown: threshold if shown > half else 0
    around = lambda shown, floor: (max(floor, shown - half), shown + half)
    no = eligible - met
    return Fact(measure, first, last, stratum, level, around(met, least(met)), (max(least(no - half), no - 2 * half), no + 2 * half),
                around(eligible, threshold), around(missing, 2 * threshold if missing > half else 0))


def wilson(met, eligible):
    """Wilson's score interval at 95 % (Wilson 1927), written out here so that the tool's own is not asked."""
    p = met / eligible
    denominator = 1 + Z * Z / eligible
    centre = (p + Z * Z / (2 * eligible)) / denominator
    reach = Z / denominator * math.sqrt(p * (1 - p) / eligible + Z * Z / (4 * eligible * eligible))
    return p, max(0.0, centre - reach), min(1.0, centre + reach)


def _inverted(measure, first, last, stratum, level, shown, figures, slack, rule):
    """What a proportion and its interval say of the counts. From the counts beside them: nothing new. From others: those."""
    agrees = lambda met, eligible: all(abs(a - b) <= slack for a, b in zip(wilson(met, eligible), figures))
    if agrees(*shown):
        return None
    pairs = [(met, eligible) for eligible in range(1, 2 * shown[1] + 50)
             for met in {math.floor(figures[0] * eligible), math.ceil(figures[0] * eligible)} if met <= eligible and agrees(met, eligible)]
    if not pairs:
        raise Unread(f"{measure}: a proportion that no count gives: {figures}")
    span = lambda numbers: (min(numbers), max(numbers))
    return Fact(measure, first, last, stratum, level, span([m for m, _ in pairs]), span([e - m for m, e in pairs]), span([e for _, e in pairs]), (0, 10_000))


def _package(folder):
    """The data package says columns, sizes and hashes of the files beside it: no count."""
    with open(os.path.join(folder, "datapackage.json"), encoding="utf-8") as file:
        package = json.load(file)
    numbers = []

    def walk(value, key):
        if isinstance(value, dict):
            for name, inner in value.items():
                walk(inner, name)
        elif isinstance(value, list):
            for inner in value:
                walk(inner, key)
        elif isinstance(value, (int, float)) and not isinstance(value, bool) and key not in ("bytes", "minimum", "maximum"):
            numbers.append((key, value))

    walk(package, "")
    if numbers:
        raise Unread(f"datapackage.json: {numbers}")


class _Page(HTMLParser):
    """Rows of tables by their caption, and every other text."""

    def __init__(self):
        super().__init__()
        self.rows, self.words, self.attributes = [], [], []
        self.caption, self.row, self.stack, self.measure = "", None, [], ""
        self.title, self.titles = "", {}

    def handle_starttag(self, tag, attributes):
        if tag in ("svg", "script", "img", "canvas"):
            raise Unread(f"report.html: <{tag}>")
        self.attributes += [(name, value) for name, value in attributes if value]
        if tag not in ("meta", "br", "link"):
            self.stack.append(tag)
        if tag == "table":
            self.caption = dict(attributes).get("class") == "summary" and "summary" or self.measure
        elif tag == "section":
            self.measure = ""
        elif tag == "tr":
            self.row = []
        elif tag in ("td", "th") and self.row is not None:
            self.row.append("")

    def handle_endtag(self, tag):
        while self.stack and self.stack.pop() != tag:
            pass
        if tag == "tr":
            self.rows.append((self.caption, self.row))
            self.row = None

    def handle_data(self, data):
        if "style" in self.stack:
            return
        if self.row is not None:
            if self.row:
                self.row[-1] += data
        else:
            if "h2" in self.stack:
                self.title = data
            if "code" in self.stack and not self.measure and "section" in self.stack:
                self.measure = self.titles[self.title] = data
            if not {"code", "dd", "footer", "caption", "h2"} & set(self.stack):
                self.words.append(data)

    def handle_comment(self, data):
        raise Unread(f"report.html: a comment: {data}")


def _page(folder, rule):
    page = _Page()
    with open(os.path.join(folder, "report.html"), encoding="utf-8") as file:
        page.feed(file.read())
    # A number in an attribute or between the tables has a known reason, or the reader stops.
    for name, value in page.attributes:
        if name not in ("id", "aria-labelledby", "href", "content", "class", "lang", "charset") and re.search(r"\d", value) and (name, value) != ("tabindex", "0"):
            raise Unread(f"report.html: {name}={value}")
    known = {"1", "6", "12", str(rule[0]), str(rule[0] - 1), str(2 * rule[0]), str(rule[1])}
    words = re.sub(r"\b\d{1,2}\s\w+\s\d{4}|(?:%s)\s\d{4}" % "|".join(MONTHS), "", " ".join(page.words))
    for number in re.findall(r"\d+", words):
        if number not in known:
            raise Unread(f"report.html: the number {number} between tables: {[each for each in page.words if number in each][:3]}")
    facts = []
    for table, row in page.rows:
        cells = [cell.replace("\u00a0", " ").strip() for cell in row]
        if cells[0] in ("Measure", "Months"):
            continue
        if table == "summary" and len(cells) == 5 and "/" in cells[2] and cells[2][0].isdigit():
            facts += _row(page.titles[cells[0]], cells[1], "all", "all", cells[2:], rule)
        elif table != "summary" and len(cells) == 6 and cells[3][:1].isdigit():
            facts += _row(table, cells[0], cells[1].replace(" ", "_") or "all", cells[2], cells[3:], rule)
        elif any(re.search(r"\d", cell) for cell in cells[1:]) and not any(cell in ("not shown", "not collected") for cell in cells):
            raise Unread(f"report.html: a row {cells}")
    return facts


def _row(measure, months, stratum, level, cells, rule):
    first, last = (_named(text) for text in (months.split(" to ")[0], months.split(" to ")[-1]))
    met, eligible = (int(number.replace(",", "")) for number in cells[0].split("/"))
    missing = int(cells[2].replace(",", ""))
    level = "(other)" if level.startswith("(other):") else level if stratum == "all" else level.replace(" ", "_")
    facts = [_fact(measure, first, last, stratum, level, met, eligible, missing, rule)]
    if eligible:
        per = 1000 if "1,000" in cells[1] else 100
        figures = [float(number) / per for number in re.findall(r"\d+\.\d", cells[1])]
        if len(figures) != 3:
            raise Unread(f"report.html: an estimate {cells[1]}")
        facts.append(_inverted(measure, first, last, stratum, level, (met, eligible), figures, .0501 / per, rule))
    return facts


def _named(text):
    name, year = text.split()
    return int(year) * 12 + MONTHS.index(name)
