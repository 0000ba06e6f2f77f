#!/usr/bin/env python3
"""Holds a packet against the workings of its plan: what is printed, against what was computed.

    agreement.py grid|sheets|splits|check-page|supplies WORKINGS.json PACKET.pdf

Reads the PDF through pdftotext alone and shares nothing with the program. What the samples' labels say is written
out below by hand, from samples/formulary.yaml. Prints every disagreement; ends with 1 when there is one.
"""
import collections
import datetime
import html
import json
import re
import subprocess
import sys
from fractions import Fraction

# product: medicine, what the box says, what one container holds, and in how many mL it comes or is made up
Label = collections.namedtuple("Label", "medicine box whole volume")
LABELS = {
    "examplin-kit": Label("Examplin", "0.25 mg", "250 mcg", "1"),
    "sampletide-vial": Label("Sampletide", "5 mg in 1 mL", "14 mg", "2.8"),
    "mockuline-syringe": Label("Mockuline", "0.25 mg", "0.25 mg", "0.5"),
    "pretendol-syringe": Label("Pretendol", "0.5 mg", "0.5 mg", "0.5"),
    "nonsensol-tablets": Label("Nonsensol", "1 tablet", "1 tablet", None),
    "fictivane-vial": Label("Fictivane", "10,000 units", "10,000 units", "3"),
    "vacuprine-vial": Label("Vacuprine", "375 units", "375 units", "1.5"),
    "oleumine-vial": Label("Oleumine", "50 mg in 1 mL", "500 mg", "10"),
    "insertine-pack": Label("Insertine", "1 insert", "1 insert", None),
    "folliplan-vial": Label("Folliplan", "75 units", "75 units", "1"),
    "fabriline-vial": Label("Fabriline", "900 units", "900 units", "1.8"),
    "dummirex-syringe": Label("Dummirex", "0.25 mg", "0.25 mg", "0.5"),
    "phialone-ampoule": Label("Phialone", "25 mg in 1 mL", "50 mg", "2"),
}
# Several powders go into the liquid of one (`powders_per_diluent`): the volume stays that of the liquid.
ONE_LIQUID = {"folliplan-vial"}
# What the tag of a stop line says before its number: `part: expel-first` pushes out, then gives the rest;
# `part: inject-to` stops on the way.
STOP_WORDS = {"pretendol-syringe": "push out to", "dummirex-syringe": "stop at"}
# One container may serve two doses (`share`).
SHARED = {"examplin-kit"}
# What an empty syringe is called by: its size.
SIZES = {"syringe-1": "1", "syringe-3": "3"}

NUMBER = r"\d[\d,]*(?:\.\d+)?"
UNIT = r"(?:syringe units|units|mcg|mg|g|tablets?|inserts?)"
AMOUNT = re.compile(rf"(?:{NUMBER} {UNIT}|half a tablet)$")
MARK = re.compile(rf"(?:all|line {NUMBER}|(?:(?:push out to|stop at|add) )?{NUMBER} mL)$")
# Beside a tag and beside an amount: how many containers "all" is, and how much of a part goes in.
BESIDE = re.compile(rf"(?:×\d+ (?:vial|ampoule)s|{NUMBER} mL goes in)$")
GOES_IN = re.compile(rf"{NUMBER} mL goes in$")

faults = []


def fault(text):
    faults.append(text)


# ---- quantities, exactly

IN_MCG = {"g": 1000000, "mg": 1000, "mcg": 1}


def amount(text):
    """'0.25 mg' as (250, 'mcg'): what can be compared."""
    number, unit = text.split(" ", 1)
    value = Fraction(number.replace(",", ""))
    return (value * IN_MCG[unit], "mcg") if unit in IN_MCG else (value, unit.rstrip("s"))


def as_said(text):
    """A dose of the workings as the patient's pages say it."""
    return "half a tablet" if text == "0.5 tablets" else text


# ---- the computed side

Dose = collections.namedtuple("Dose", "item n date day time said medicine mark add takes product containers sizes")


def mark_of(draw):
    if "count" in draw:
        return None
    if draw["line"] == "add":
        return "add " + draw["mark"]
    if draw["line"] == "stop":
        return STOP_WORDS[draw["containers"][0]["product"]] + " " + draw["mark"]
    return draw["mark"]


def check_arithmetic(dose, draw):
    """volume = taken / (whole / volume of the whole), and the containers of a draw add up to the dose."""
    name = f"{dose['item']} {dose['n']}"
    taken = [amount(container["takes"]) for container in draw["containers"]]
    total = sum(value for value, unit in taken)
    ordered, unit = amount(dose["dose"])
    if unit == taken[0][1] and total != ordered:
        fault(f"{name}: the containers give {total}, the order is {ordered} {unit}")
    if "count" in draw:
        return
    label = LABELS[draw["containers"][0]["product"]]
    holders = len(draw["containers"]) if draw["containers"][0]["product"] in ONE_LIQUID else 1
    volume = total * Fraction(label.volume) / amount(label.whole)[0] / holders
    if Fraction(draw["volume_exact"]) != volume:
        fault(f"{name}: the workings have {draw['volume_exact']} mL, the label gives {volume} mL")
    if unit == "syringe unit" and volume != ordered / 100:
        fault(f"{name}: {ordered} lines of the insulin syringe are not {volume} mL")


def read_doses(workings):
    doses = []
    for dose in workings["doses"]:
        given = [draw for draw in dose["draws"] if draw.get("line") != "add"]
        adds = [mark_of(draw) for draw in dose["draws"] if draw.get("line") == "add"]
        for draw in given:
            check_arithmetic(dose, draw)
        if len(given) != 1:
            fault(f"{dose['item']} {dose['n']}: {len(given)} draws; the samples have one a dose")
            continue
        containers = given[0]["containers"]
        product = containers[0]["product"]
        date = datetime.date.fromisoformat(dose["date"]) if dose["date"] else None
        doses.append(
            Dose(dose["item"], dose["n"], date, dose.get("day"), dose["time"], as_said(dose["dose"]),
                 LABELS[product].medicine, mark_of(given[0]), adds[0] if adds else None, containers[0]["takes"],
                 product, containers, {SIZES.get(draw.get("syringe")) for draw in dose["draws"]}))
    return doses


# ---- the printed side

Word = collections.namedtuple("Word", "x0 y0 x1 y1 text")


class Phrase:
    """Words on one baseline, no further apart than words are."""

    def __init__(self, words):
        self.x0, self.x1 = words[0].x0, words[-1].x1
        self.y0, self.y1 = min(w.y0 for w in words), max(w.y1 for w in words)
        self.y = (self.y0 + self.y1) / 2
        self.text = " ".join(w.text for w in words)


class Page:
    def __init__(self, words):
        self.words = words
        self.phrases = phrases_of(words)
        self.text = " ".join(w.text for w in words)

    def find(self, text):
        return next((p for p in self.phrases if p.text == text), None)

    def title(self):
        """The largest type at the top of the page: a draft's band stands above it, the page's number at its right."""
        top = [p for p in self.phrases if p.y0 < 80]
        return min(top, key=lambda p: (round(p.y0 - p.y1), p.x0)).text


def baseline(word):
    """Where the word stands: the typeface puts it at 0.757 of the height that pdftotext reports."""
    return word.y0 + 0.757 * (word.y1 - word.y0)


def phrases_of(words):
    lines = sorted(words, key=baseline)
    follower, led = {}, set()
    for i, word in enumerate(lines):
        near = range(i, i)
        while near.start > 0 and baseline(word) - baseline(lines[near.start - 1]) < 0.8:
            near = range(near.start - 1, near.stop)
        while near.stop < len(lines) and baseline(lines[near.stop]) - baseline(word) < 0.8:
            near = range(near.start, near.stop + 1)
        best = None
        for j in near:
            other = lines[j]
            gap = other.x0 - word.x1
            height = min(word.y1 - word.y0, other.y1 - other.y0)
            if other.x0 > word.x0 and -0.5 < gap < 0.33 * height and (best is None or other.x0 < lines[best].x0):
                best = j
        if best is not None and best not in led:
            follower[i] = best
            led.add(best)
    phrases = []
    for i in set(range(len(lines))) - led:
        chain = [i]
        while chain[-1] in follower:
            chain.append(follower[chain[-1]])
        phrases.append(Phrase([lines[k] for k in chain]))
    return phrases


def read_pages(pdf):
    said = subprocess.run(["pdftotext", "-bbox", pdf, "-"], check=True, capture_output=True, text=True).stdout
    pages = []
    for page in said.split("<page ")[1:]:
        words = []
        for x0, y0, x1, y1, text in re.findall(
                r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>', page):
            for part in html.unescape(text).replace("\u00a0", " ").split():
                words.append(Word(float(x0), float(y0), float(x1), float(y1), part))
        pages.append(Page(words))
    return pages


def day_words(date):
    return f"{date.day} {date:%b}"


# ---- the day grid

def is_grid(page):
    return any(p.text.startswith("Day, and side for") for p in page.phrases)


def grid_rows(pages):
    """(date, day number, phrases, heads, left edge) for each row that is a day; the column of days is the left one."""
    rows = []
    for page in filter(is_grid, pages):
        left = min(p.x0 for p in page.phrases)
        days = []
        for phrase in page.phrases:
            found = re.search(r"(\d{1,2} (?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec))$", phrase.text)
            if found and phrase.x0 - left < 45:
                days.append((phrase.y, found[1]))
        bottom = min(p.y0 for p in page.phrases if p.text.startswith("Unsure?"))
        names = [p for p in page.phrases if p.text in {label.medicine for label in LABELS.values()}]
        top = min((p.y1 for p in names), default=0)
        heads = [p for p in names if p.y < top + 6]
        found = {date: [] for y, date in days}
        for phrase in page.phrases:
            if top < phrase.y < bottom and phrase not in heads and days:
                y, date = min(days, key=lambda day: abs(day[0] - phrase.y))
                if abs(y - phrase.y) < 30:
                    found[date].append(phrase)
        for y, date in days:
            number = [p.text.split()[0] for p in found[date]
                      if re.match(r"\d{1,2}(?: \w{3} \d{1,2} \w{3})?$", p.text) and p.x0 - left < 30]
            rows.append((date, int(number[0]) if number else None, found[date], heads, left))
    return rows


def cells_of(date, phrases, heads, left):
    """(medicine, dose, mark) of each cell in a row, as a multiset."""
    cells = collections.Counter()
    inside = [p for p in phrases if p.x0 - left > 80]
    names = [p for p in inside if p.text in {label.medicine for label in LABELS.values()}]
    marks = [p for p in inside if MARK.match(p.text)]
    for dose in (p for p in inside if AMOUNT.match(p.text)):
        if names:  # a band names its medicine itself, and its tag stands beside
            name, below = names[0], marks
        else:
            name = min(heads, key=lambda head: abs(head.x0 - dose.x0))
            below = [m for m in marks if m.y > dose.y and m.x0 < dose.x1 and m.x1 > dose.x0]
        if len(below) > 1:
            fault(f"{date}: {len(below)} marks for {dose.text}")
        mark = below[0].text if below else None
        beside = [p for p in inside if below and 0 < p.x0 - below[0].x1 < 15 and abs(p.y - below[0].y) < 9]
        if any(p.text == "then all" for p in beside):
            mark += ", then all"
        for p in beside:
            if re.match(r"×\d", p.text):
                mark += " " + p.text
        for p in inside:
            if GOES_IN.match(p.text) and 0 < p.x0 - dose.x1 < 15 and abs(p.y - dose.y) < 9:
                mark += ", " + p.text
        cells[(name.text, dose.text, mark)] += 1
        marks = [m for m in marks if m not in below]
    for mark in marks:
        fault(f"{date}: the mark '{mark.text}' belongs to no dose")
    for phrase in inside:
        known = MARK.match(phrase.text) or AMOUNT.match(phrase.text) or BESIDE.match(phrase.text)
        if re.search(r"\d", phrase.text) and not known and not re.match(r"page \d+$|\d\d:\d\d$", phrase.text) and \
                not re.search(r"\d\d:\d\d\.", phrase.text):
            fault(f"{date}: '{phrase.text}' is a number that no rule knows")
    return cells


def grid_mark(dose):
    """What is pushed out is not the dose: all that is left is. "All" of several is told by how many they are."""
    mark = dose.mark
    if mark and mark.startswith("push out to"):
        mark += ", then all"
    if mark == "all" and len(dose.containers) > 1:
        mark += f" ×{len(dose.containers)} vials"
    if mark and mark.startswith(("push out to", "stop at")):
        mark += f", {decimal(part_volumes(dose)[0])} mL goes in"
    return mark


def check_grid(doses, pages):
    printed = collections.defaultdict(collections.Counter)
    for page in filter(is_grid, pages):  # a day may have its morning on one page and its evening on the next
        rows = grid_rows([page])
        for date, count in collections.Counter(row[0] for row in rows).items():
            if count > 1:
                fault(f"{date}: {count} rows on one page")
        for date, number, phrases, heads, left in rows:
            printed[date] += cells_of(date, phrases, heads, left)
    computed = collections.defaultdict(collections.Counter)
    for dose in doses:
        if dose.date:
            computed[day_words(dose.date)][(dose.medicine, dose.said, grid_mark(dose))] += 1
    for date in sorted(set(printed) | set(computed)):
        if printed[date] != computed[date]:
            fault(f"{date}: printed {dict(printed[date])}, computed {dict(computed[date])}")
    if not computed:
        fault("no dose has a date")
    grids = " ".join(page.text for page in filter(is_grid, pages))
    for dose in doses:
        if not dose.date and (f"{dose.medicine}: only when the clinic calls" not in grids or dose.said not in grids):
            fault(f"{dose.medicine}: {dose.said} waits for a call, and the grid does not say so")


# ---- a medicine's front and back

def day_set(text):
    """The treatment days named in 'days 1, 3, 5 · evening' or 'days 1 to 6 · 20:00'; empty where none is known."""
    found = re.search(r"\bdays? (\d+(?: to \d+)?(?:(?:, | and )\d+(?: to \d+)?)*)(?: ·|, for a new vial|$)", text)
    days = set()
    for part in re.split(r", | and ", found[1]) if found else []:
        first, *last = part.split(" to ")
        days |= set(range(int(first), int(last[0] if last else first) + 1))
    if not found and "days not known yet" not in text:
        fault(f"no days in '{text}'")
    return frozenset(days)


def column_text(page, left=0, right=10000, top=0, bottom=10000):
    """The words of a part of the page, read line by line."""
    words = [w for w in page.words if left <= (w.x0 + w.x1) / 2 < right and top <= w.y0 < bottom]
    words.sort(key=lambda w: ((w.y0 + w.y1) / 2, w.x0))
    lines = []
    for word in words:
        if lines and (word.y0 + word.y1) / 2 - (lines[-1][-1].y0 + lines[-1][-1].y1) / 2 < 6:
            lines[-1].append(word)
        else:
            lines.append([word])
    return " ".join(" ".join(w.text for w in sorted(line, key=lambda w: w.x0)) for line in lines)


STRIP_HEADS = ("Your plan says", "Box says", "Your syringe shows")
# A part of a filled syringe: the line is not how much goes in.
PART_HEADS = {"push out to": ("Your plan says", "Goes into you", "So push out to here"),
              "stop at": ("Your plan says", "Goes into you", "So you stop here")}
PART_RESTS = {"push out to": "{} mL goes into the sink", "stop at": "{} mL stays in"}


def decimal(value):
    return f"{float(value):.9g}"


def part_volumes(dose):
    """What a part of a filled syringe gives, and what it does not; None for all others."""
    if dose.product not in STOP_WORDS or dose.mark == "all":
        return None
    held = Fraction(LABELS[dose.product].volume)
    goes_in = held * amount(dose.takes)[0] / amount(LABELS[dose.product].whole)[0]
    return goes_in, held - goes_in


# Liquids whose label has what the whole holds: as much in another volume is another box.
IN_VOLUME = {"mockuline-syringe", "pretendol-syringe", "fictivane-vial", "dummirex-syringe"}


def volume_words(product):
    """What 'It must say' adds to the label's amount."""
    return f" in {LABELS[product].volume} mL" if product in IN_VOLUME else ""


def strip_words(dose):
    """The heads and the cells of the strip, as they must read."""
    cells = [dose.said, f"{LABELS[dose.product].box}: take {box_words(dose)}", dose.mark]
    heads = STRIP_HEADS
    if part_volumes(dose):
        kind = STOP_WORDS[dose.product]
        heads = PART_HEADS[kind]
        goes_in, rest = map(decimal, part_volumes(dose))
        cells[1] = f"{goes_in} mL of {LABELS[dose.product].volume} mL in it"
        cells[2] += " " + PART_RESTS[kind].format(rest)
    return heads, [f"{head} {cell}" for head, cell in zip(heads, cells)]


def strip_of(page, starts):
    """The three cells of the strip."""
    heads = [next(p for p in page.phrases if p.text.startswith(start)) for start in starts]
    below = [p.y0 for p in page.phrases
             if p.y0 > heads[0].y1 and re.match(r"Today: one syringe|Mix$|Get it ready$|Get ready$", p.text)]
    # Where to inject is framed below it, with letters on a body that stand higher than the words.
    below += [p.y0 - 8 for p in page.phrases if p.y0 > heads[0].y1 and re.match(r"(L|R|[A-F])$|([A-F] )?Where:", p.text)]
    # The legend of a measured liquid: its tags are higher than the words beside them.
    below += [p.y0 - 14 for p in page.phrases if p.text == "White tag:"]
    edges = [heads[1].x0 - 4, heads[2].x0 - 4, 10000]
    return [column_text(page, head.x0 - 2, edge, head.y0 - 1, min(below)) for head, edge in zip(heads, edges)]


def in_box_unit(dose):
    """What is taken, in the unit that the box is marked in: '125 mcg' of a box of '0.25 mg' is '0.125 mg'."""
    unit = LABELS[dose.product].box.split()[1]
    value, common = amount(dose.takes)
    if common == "mcg":
        return f"{float(value / IN_MCG[unit]):.9g} {unit}"
    return dose.takes


def box_words(dose):
    """How much of the box, as the sheet says it: all, half, or the amount, in the box's unit where that differs."""
    if dose.product in ONE_LIQUID and len(dose.containers) > 1:
        return f"{len(dose.containers)} vials"
    whole, taken = amount(LABELS[dose.product].whole)[0], amount(dose.takes)[0]
    if taken not in (whole, whole / 2):
        return in_box_unit(dose)
    share = "all" if taken == whole else "half"
    same_unit = dose.said.split()[-1] == LABELS[dose.product].box.split()[1]
    return share if same_unit else f"{share} {in_box_unit(dose)}"


def check_numbers(name, page, dose):
    """No other volume and no other amount stands on the page than those of this dose."""
    label = LABELS[dose.product]
    own = f"{dose.said} {in_box_unit(dose)} {dose.mark} {dose.add} {label.box}"
    if dose.add:
        own += f" {label.volume} mL"
    if dose.product in ONE_LIQUID:
        own += f" {label.volume} mL"
        for n in range(1, len(dose.containers)):
            own += f" {n * int(label.whole.split()[0])} {label.whole.split()[1]}"
    own += volume_words(dose.product)
    for volume in part_volumes(dose) or ():
        own += f" {decimal(volume)} mL {label.volume} mL"
    volumes = set(re.findall(rf"({NUMBER}) mL", own))
    amounts = set(re.findall(rf"{NUMBER} {UNIT}\b", own))
    sizes = re.findall(rf"empty ({NUMBER}) mL|({NUMBER}) mL syringe", page.text)
    for size in ("".join(pair) for pair in sizes):
        if size not in dose.sizes:
            fault(f"{name}: no syringe of {size} mL is used")
    for volume in re.findall(rf"(?<!empty )\b({NUMBER}) mL\b(?! syringe)", page.text):
        if volume not in volumes:
            fault(f"{name}: {volume} mL is neither mark nor label")
    for other in re.findall(rf"{NUMBER} {UNIT}\b", page.text):
        if other not in amounts:
            fault(f"{name}: {other} is neither dose nor label")


Sheet = collections.namedtuple("Sheet", "front mix back medicine dose days front_days number")


def subtitle(page):
    """The line below the title, which says on which days."""
    down = sorted(page.phrases, key=lambda p: p.y)
    return next(p.text for p in down if " · " in p.text and re.search(r"\bdays?\b", p.text))


BACK = re.compile(r": (?:(?:draw and )?inject|draw|push out first|stop on the way|\d powders)$")


def sheets_of(pages):
    """Each medicine's sheet; where a medicine has several, each is titled with its dose."""
    sheets = []
    for i, page in enumerate(pages):
        found = re.match(r"(\w+)(?: (.+))?: get ready$", page.title())
        if found:
            mix = pages[i + 1] if pages[i + 1].title().endswith(": mix it") else None
            # The back of a dose to the minute stands behind the page of its time, not behind its front.
            back = next(p for p in pages[i + 1:] if BACK.search(p.title()))
            sheets.append(
                Sheet(page, mix, back, found[1], found[2], day_set(subtitle(back)), day_set(subtitle(page)), i + 1))
    return sheets


def sheet_for(dose, sheets, numbers):
    day = numbers.get(day_words(dose.date)) if dose.date else None
    fitting = [s for s in sheets if s.medicine == dose.medicine and (day in s.days if day else not s.days)]
    if len(fitting) != 1:
        fault(f"{dose.medicine}, day {day}: {len(fitting)} sheets")
        return None
    return fitting[0]


def check_sheets(doses, pages):
    numbers = {date: number for date, number, *_ in grid_rows(pages)}
    sheets = sheets_of(pages)
    used = set()
    opened = collections.defaultdict(dict)  # per sheet: on which day each container is begun
    for dose in doses:
        if dose.mark is None:
            continue
        sheet = sheet_for(dose, sheets, numbers)
        if sheet is None:
            continue
        front, back, medicine, number = sheet.front, sheet.back, sheet.medicine, sheet.number
        if dose.date:
            opened[number].setdefault(dose.containers[0]["number"], numbers[day_words(dose.date)])
        if (number, dose.said, dose.mark) in used:
            continue
        used.add((number, dose.said, dose.mark))
        name = f"page {number}, {medicine} {dose.said}"
        heads, expected = strip_words(dose)
        for cell, words in zip(strip_of(front, heads), expected):
            if cell != words:
                fault(f"{name}: '{cell}' is printed, '{words}' computed")
        kinds = rf"(?:draw and )?inject|draw|push out first|stop on the way|{len(dose.containers)} powders"
        if not re.match(rf"{medicine}(?: {re.escape(dose.said)})?: (?:{kinds})$", back.title()):
            fault(f"{name}: its back is '{back.title()}'")
        if sheet.dose not in (None, dose.said):
            fault(f"{name}: its front is '{front.title()}'")
        if not any(dose.said in p.text.split(" · ") for p in back.phrases) and f" {dose.said}:" not in back.title():
            fault(f"{name}: the back does not name the dose")
        # Of two that are as large, the upper one: what is left in a syringe is given after its line.
        tags = [p for p in back.phrases if MARK.match(p.text)]
        largest = max(tags, key=lambda p: (round(p.y1 - p.y0, 1), -p.y0), default=None)
        if largest is None or largest.text != dose.mark:
            fault(f"{name}: the largest mark on the back is {largest and largest.text}, not {dose.mark}")
        if dose.add and not front.find(dose.add):
            fault(f"{name}: the front has no '{dose.add}'")
        if (sheet.mix is None) != (dose.add is None):
            fault(f"{name}: a page to mix on is {'there' if sheet.mix else 'not there'}")
        if sheet.mix:
            tags = [p for p in sheet.mix.phrases if MARK.match(p.text)]
            largest = max(tags, key=lambda p: p.y1 - p.y0, default=None)
            if largest is None or largest.text != dose.add:
                fault(f"{name}: the largest mark to mix by is {largest and largest.text}, not {dose.add}")
            check_numbers(name + ", mixing", sheet.mix, dose)
        box = LABELS[dose.product].box
        if f"{box} ".startswith(f"{dose.said} "):
            other = ""
        elif box.split(" in ")[0] != box or amount(box) != amount(dose.said):
            other = f", not your dose, {dose.said}"
        else:
            other = f": your dose, {dose.said}"
        match = f"It must say {medicine}, {box}{volume_words(dose.product)}{other}."
        if match not in column_text(front).replace("Match the box ", ""):
            fault(f"{name}: the front does not say '{match}'")
        check_numbers(name + ", front", front, dose)
        check_numbers(name + ", back", back, dose)
    for sheet in sheets:
        if sum(1 for number, *_ in used if number == sheet.number) != 1:
            fault(f"page {sheet.number}: a sheet for no dose, or for two amounts")
        # A vial mixed on one day and used on two, or on many, is got ready on the first of them.
        shared = any(dose.product in SHARED for dose in doses if dose.medicine == sheet.medicine)
        shared = shared or "for a new vial" in subtitle(sheet.front)
        mixed = set(opened[sheet.number].values()) if shared else sheet.days
        if sheet.front_days != mixed:
            fault(f"page {sheet.number}: got ready on days {sorted(sheet.front_days)}, computed {sorted(mixed)}")


# ---- one container, two days

def moment_words(text):
    moment = datetime.datetime.fromisoformat(text)
    return f"{moment:%a} {day_words(moment)}, {moment:%H:%M}"


def check_readings(page, dose):
    """Beside the right reading stands the mark, beside the wrong ones more and less. Returns the page without them."""
    heading = next((p for p in page.phrases if p.text.startswith("Read the ring nearest the needle")), None)
    right = page.find("Right")
    if heading is None or right is None or not dose.mark.endswith(" mL"):
        return page
    beside = [p for p in page.phrases if heading.y < p.y < right.y and re.fullmatch(rf"{NUMBER} mL", p.text)]
    read = [p.text.split()[0] for p in sorted(beside, key=lambda p: p.x0)]
    mark = Fraction(dose.mark.split()[0])
    if len(read) != 3 or not Fraction(read[2]) < mark == Fraction(read[0]) < Fraction(read[1]):
        fault(f"readings of {', '.join(read)} mL for a mark of {dose.mark}")
    return Page([w for w in page.words if not heading.y < (w.y0 + w.y1) / 2 < right.y])


def check_splits(doses, pages):
    shared = collections.defaultdict(list)
    for dose in doses:
        for container in dose.containers:
            if container["product"] in SHARED:
                shared[container["number"]].append(dose)
    pairs = sorted((pair for pair in shared.values() if len(pair) == 2), key=lambda pair: pair[0].date)
    splits = [page for page in pages if page.title().endswith(": one vial, two days")]
    if len(splits) != (1 if pairs else 0):
        fault(f"{len(pairs)} shared vials, {len(splits)} pages for them")
    if not pairs or not splits:
        return
    page = splits[0]
    check_numbers("the page of a shared vial", check_readings(page, pairs[0][0]), pairs[0][0])
    labels = [(label, [p for p in page.phrases if abs(p.x0 - label.x0) < 0.5 and 0 < p.y - label.y < 20])
              for label in page.phrases if label.text.startswith("Mixed ")]
    printed = sorted((label.text, below[0].text if below else "") for label, below in labels)
    computed = []
    for first, second in pairs:
        by = first.containers[0]["by"]
        if f"{second.date} {second.time}" > by:
            fault(f"the second half of {first.date} is at {second.date} {second.time}, kept until {by}")
        computed.append((f"Mixed {first.date:%a} {day_words(first.date)},", f"Use by {moment_words(by)}"))
    if printed != sorted(computed):
        fault(f"labels: printed {printed}, computed {sorted(computed)}")
    for dose in pairs[0]:
        if page.find(moment_words(f"{dose.date} {dose.time}")) is None:
            fault(f"the page does not say '{moment_words(f'{dose.date} {dose.time}')}'")


# ---- the staff's page

def check_check_page(doses, pages):
    numbers = {date: number for date, number, *_ in grid_rows(pages)}
    sheets = sheets_of(pages)
    text = " ".join(column_text(page) for page in pages if page.title().startswith("Check page"))
    names = "|".join(sorted({label.medicine for label in LABELS.values()}))
    starts = [m for m in re.finditer(rf"\b({names}) (days? (?:not known yet|(?:[\d, to]|and)+?)) · ", text)]
    ends = [m.start() for m in starts[1:]] + [len(text)]
    blocks = [(m[1], day_set(m[2]), text[m.start():end]) for m, end in zip(starts, ends)]
    done = set()
    for dose in doses:
        day = numbers.get(day_words(dose.date)) if dose.date else None
        fitting = [b for b in blocks if b[0] == dose.medicine and (day in b[1] if day else not b[1])]
        if len(fitting) != 1:
            fault(f"{dose.medicine}, day {day}: {len(fitting)} blocks on the check page")
            continue
        block = fitting[0][2]
        key = (dose.medicine, fitting[0][1], dose.said)
        if key in done:
            continue
        done.add(key)
        sums = []
        if part_volumes(dose):
            goes_in, rest = map(decimal, part_volumes(dose))
            sums = [f"{LABELS[dose.product].volume} mL − {rest} mL = {goes_in} mL"]
        for words in (dose.said, dose.mark or dose.said, dose.add or dose.said, *sums):
            if words not in block:
                fault(f"the check page's '{block[:50]}...' lacks '{words}'")
        if dose.mark:
            sheet = sheet_for(dose, sheets, numbers)
            if sheet and f"page {sheet.number}" not in block:
                fault(f"the check page's '{block[:50]}...' does not point to page {sheet.number}")
    if not done:
        fault("no block of the check page was looked at")


# ---- supplies

def check_supplies(workings, pages):
    page = next(p for p in pages if p.title() == "Your supplies")
    heads = {}
    for text in ("need", "have", "get"):
        head = max((p for p in page.phrases if p.text == text), key=lambda p: p.x0)
        heads[text] = (head.x0 + head.x1) / 2
    listed = 0
    # A row ends where the next one's name begins, the last one above the next heading.
    tops = sorted(p.y0 for p in page.phrases
                  if p.text in {label.medicine for label in LABELS.values()} | {"To inject with"})
    for supply in workings["supplies"]:
        name = page.find(LABELS[supply["product"]].medicine)
        if name is None:
            fault(f"{supply['product']} is not on the page")
            continue
        listed += 1
        expected = {"need": supply["needed"], "have": supply["dispensed"], "get": supply["to_get"]}
        printed = {"get": 0}
        end = next((top for top in tops if top > name.y0), name.y0 + 40)
        for phrase in page.phrases:
            if name.y0 - 6 < phrase.y < end - 6 and re.match(r"\d+$", phrase.text):
                near = min(heads, key=lambda text: abs(heads[text] - (phrase.x0 + phrase.x1) / 2))
                printed[near] = int(phrase.text)
        if printed != expected:
            fault(f"{supply['product']}: printed {printed}, computed {expected}")
    if not listed:
        fault("no supply was looked at")


def main():
    what, workings_file, pdf = sys.argv[1:]
    with open(workings_file, encoding="utf-8") as file:
        workings = json.load(file)
    pages = read_pages(pdf)
    doses = read_doses(workings)
    if not doses:
        fault("no doses")
    if what == "grid":
        check_grid(doses, pages)
    elif what == "sheets":
        check_sheets(doses, pages)
    elif what == "splits":
        check_splits(doses, pages)
    elif what == "check-page":
        check_check_page(doses, pages)
    elif what == "supplies":
        check_supplies(workings, pages)
    else:
        sys.exit(__doc__)
    print("\n".join(faults))
    sys.exit(1 if faults else 0)


main()
