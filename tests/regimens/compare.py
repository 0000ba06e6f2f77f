#!/usr/bin/env python3
"""Holds the workings of a plan against a table worked out by hand.

    compare.py EXPECTED.txt < workings.json

A row of the table is one dose, one product to count, or one finding:

    ITEM N | WEEKDAY DATE TIME | DOSE | DRAW ; DRAW
    ITEM FIRST-LAST | WEEKDAY DATE to WEEKDAY DATE at TIME TIME | DOSE | DRAW     (every day, at each of the times)
    ITEM N | day DAY TIME | DOSE | DRAW                                           (no date yet)
    supply PRODUCT | needed N | in hand N | to get N | thrown away AMOUNT
    finding LEVEL CODE WORD ...                                                   (each word is in the sentence)

and a DRAW is one of

    draw MARK (VOLUME mL of CONCENTRATION) in SYRINGE: USE + USE     (or 'stop', where part of it is pushed out)
    add MARK (VOLUME mL) in SYRINGE
    dial AMOUNT: USE
    count AMOUNT

with a USE as in `some-vial #1 takes 5 mg leaves 9 mg keep by 2026-03-29`.

`NAME = words` lets later rows write $NAME. A '#' that begins a line begins the working. A row too many or too few, on
either side, is a difference.
"""
import datetime
import difflib
import json
import re
import sys

# Signatures have tests of their own; this folder has none.
UNTESTED_FINDINGS = {"seal-missing"}


def weekday(date):
    return "Mon Tue Wed Thu Fri Sat Sun".split()[date.weekday()]


def expand(row):
    """One row for each dose of a row that stands for several; a wrong weekday in the table is an error in it."""
    for name, text in re.findall(r"\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun) (\d{4}-\d\d-\d\d)", row):
        if weekday(datetime.date.fromisoformat(text)) != name:
            sys.exit(f"the table is wrong: {text} is no {name}")
    several = re.match(r"(\S+) (\d+)-(\d+) \| \w+ (\S+) to \w+ (\S+) at ([\d: ]+) \| (.*)", row)
    if not several:
        return [row]
    item, first, last, begin, end, times, rest = several.groups()
    day, end = datetime.date.fromisoformat(begin), datetime.date.fromisoformat(end)
    rows = []
    while day <= end:
        for time in times.split():
            rows.append(f"{item} {int(first) + len(rows)} | {weekday(day)} {day} {time} | {rest}")
        day += datetime.timedelta(days=1)
    if len(rows) != int(last) - int(first) + 1:
        sys.exit(f"the table is wrong: {len(rows)} doses are no {first} to {last}")
    return rows


def read_table(path):
    names, rows = {}, []
    for line in open(path, encoding="utf-8"):
        line = " ".join(line.split())
        if not line or line.startswith("#"):
            continue
        line = re.sub(r"\$(\w+)", lambda match: names[match.group(1)], line)
        let = re.match(r"(\w+) = (.*)", line)
        if let:
            names[let.group(1)] = let.group(2)
        else:
            rows += expand(line)
    return rows


def said_use(use):
    words = f"{use['product']} #{use['number']} takes {use['takes']} leaves {use['leaves']} {use['then']}"
    return words + (f" by {use['by']}" if "by" in use else "")


def said_draw(draw):
    uses = " + ".join(said_use(use) for use in draw.get("containers", []))
    if "count" in draw:
        return f"count {draw['count']}"
    if "dial" in draw:
        return f"dial {draw['dial']}: {uses}"
    volume = draw["volume_exact"].removesuffix("/1") + " mL"
    if draw["line"] == "add":
        return f"add {draw['mark']} ({volume}) in {draw['syringe']}"
    return f"{draw['line']} {draw['mark']} ({volume} of {draw['concentration']}) in {draw['syringe']}: {uses}"


def said_dose(dose):
    if dose["date"]:
        when = f"{weekday(datetime.date.fromisoformat(dose['date']))} {dose['date']} {dose['time']}"
    else:
        when = f"day {dose['day']} {dose['time']}"
    amount = dose["dose"] if dose["given"] == dose["dose"] else f"{dose['dose']} given as {dose['given']}"
    draws = " ; ".join(said_draw(draw) for draw in dose["draws"])
    return f"{dose['item']} {dose['n']} | {when} | {amount} | {draws}"


def said_supply(supply):
    return (f"supply {supply['product']} | needed {supply['needed']} | in hand {supply['dispensed']} | "
            f"to get {supply['to_get']} | thrown away {supply['discarded']}")


def unmatched(expected, findings):
    """Each finding of the table must be there, and no other stop or caution."""
    left = [f for f in findings if f["level"] in ("stop", "caution") and f["code"] not in UNTESTED_FINDINGS]
    wrong = []
    for row in expected:
        level, code, *words = row.split()[1:]
        hit = next((f for f in left if (f["level"], f["code"]) == (level, code) and
                    all(word in f["says"] for word in words)), None)
        if hit:
            left.remove(hit)
        else:
            wrong.append(f"- {row}")
    return wrong + [f"+ finding {f['level']} {f['code']}: {f['says']}" for f in left]


def main():
    expected = read_table(sys.argv[1])
    workings = json.load(sys.stdin)
    actual = [said_dose(dose) for dose in workings["doses"]]
    actual += sorted(said_supply(supply) for supply in workings["supplies"])
    rows = [row for row in expected if not row.startswith(("finding ", "supply "))]
    rows += sorted(row for row in expected if row.startswith("supply "))
    wrong = [line for line in difflib.ndiff(rows, actual) if line[0] in "+-"]
    wrong += unmatched([row for row in expected if row.startswith("finding ")], workings["findings"])
    if wrong:
        sys.exit("- by hand, + by the program\n" + "\n".join(wrong))
    if not expected:
        sys.exit("the table is empty")


main()
