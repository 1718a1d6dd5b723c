"""Walks the pages with a screen reader and says what it did not speak.

    walk.py FOLDER BROWSER REPORT CASES FORM

Of the report and the cases: every heading with its level (key h), every table by its caption (t), every chart by its title and its description (g), in order.
Of the form: every control by its label as Tab reaches it, and what is wrong when it is. Exit code 1: something was not spoken.
"""
import re
import sys

from reader import Reader
from seen import Page, squeezed

ROLES = re.compile(r"^(entry|combo box|push button|spin button|toggle button|check box|link|image|table with.*|heading level \d)\.?$")


def plain(text):
    return squeezed(re.sub(r"[^\w]+", " ", text)).lower()


def walk(reader, key, expected, what, lost):
    """Presses the key until all that is expected was spoken in order, or a page too often."""
    spoken, at = [], 0
    for _ in range(2 * len(expected) + 10):
        if at == len(expected):
            break
        said = reader.press(key)
        spoken += said
        now = plain(" ".join(said))
        while at < len(expected) and plain(expected[at]) in now:
            at += 1
            now = now.split(plain(expected[at - 1]), 1)[1]
        if any("wrapping" in one.lower() for one in said):
            break
    lost += [f"{what}: “{each}”" for each in expected[at:at + 1]]
    print(f"{what}: {at} of {len(expected)} spoken in order", flush=True)
    return spoken


def page(reader, path, name, lost):
    shown = Page(path)
    opening = reader.open(path)
    reader.press("ctrl+Home")
    walk(reader, "h", [f"{squeezed(text)} heading level {level}" for level, text in shown.headings[1:]], f"{name}: headings", lost)
    reader.press("ctrl+Home")
    walk(reader, "t", [squeezed(each) for each in shown.tables], f"{name}: tables", lost)
    reader.press("ctrl+Home")
    walk(reader, "g", shown.pictures, f"{name}: charts", lost)
    return opening


def form(reader, path, lost):
    shown = Page(path)
    reader.open(path)
    # The later plans are asked only once plan A has failed; a reason for no value has a name of its own, not a label.
    names = [text for _, text in shown.controls if text and text not in ("Plan B", "Plan C", "Plan D")]
    names = names[:names.index("Keep this procedure") + 1]
    at = 0
    for _ in range(3 * len(names)):
        said = reader.press("Tab")
        now = plain(" ".join(said))
        lost += [f"form: a control without a name: {said}" for one in said[:1] if ROLES.match(one)]
        if at < len(names) and plain(names[at]) in now:
            at += 1
        if plain(names[-1]) in now:
            break
    print(f"form: controls: {at} of {len(names)} spoken in order", flush=True)
    lost += [f"form: control “{names[at]}”"] if at < len(names) else []
    for key, expected in (("Return", "Not kept yet"), ("Tab", "This is needed"), ("Return", "This is needed")):
        said = reader.press(key, 2)
        if plain(expected) not in plain(" ".join(said)):
            lost.append(f"form: “{expected}” after {key}, but {said}")
        print(f"form: after {key}: {' | '.join(said)}", flush=True)


def main():
    folder, browser, report, cases, entry = sys.argv[1:]
    lost = []
    reader = Reader(folder, browser)
    form(reader, entry, lost)
    page(reader, cases, "cases", lost)
    page(reader, report, "report", lost)
    print("\n".join(["not spoken:", *lost] if lost else ["everything was spoken"]))
    sys.exit(bool(lost))


if __name__ == "__main__":
    main()
