"""Writes an invented clinic's export: intake.csv, map.yaml, and key.csv, which says how each bad row must end.

    python3 tests/batch/make-intake.py FOLDER --rows N [--bad PERCENT] [--night 2] [--languages en,es]

The same arguments give the same bytes. Everybody in it is invented, and is meant to look it. The protocols and
products are those of samples/. A code of key.csv may be several with a plus between them, where one fault is several. Night 2 is the export of the day after: some orders changed, some patients gone,
some new; night.csv then says what became of whom.
"""
import argparse
import csv
import datetime
import io
import pathlib
import random

FIRST = ("Odile Berit Ludmila Tamsin Ione Perpetua Zoë Marigold Clementine Ottoline Fenella Quilla Sunniva Araminta "
         "Dorothea Eglantine Philippa Rosamund Šárka Wilhelmina Xanthe Yolande Hyacinth Isaura Jacoba Karoline").split()
LAST = ("Quince Applegarth Farthing-Moss Oakapple Marblethwaite Thimblewick Quillfeather Sternkammer Bramblecote "
        "Lanternjaw Puddifoot Inkpen Wafflesworth Crumhorn Dewdrop Featherstitch Gooseberry O'Lantern Nightingown "
        "Pepperpot Saltcellar Tanglewood Umbershoot Verdigris Winterbottle Yarrowby").split()
# What the export calls each protocol. Only those that the clinic has are in the export.
COURSES = {"SHORT": "half-first", "CALL": "call-start", "SUPPORT": "support", "PENS": "pen-course", "LINING": "lining",
           "WAITS": "by-call", "MIXED": "liquids", "PLACES": "two-places"}
HEADING = ("Record,Name,Born,Allergies,Language,Paper,Large print,Course,First injection,Timed injection,Timed at,"
           "Procedure,Collection,Test,First patch,Sampletide,Change on,Change to,Vacuprine,Vacuprine from day 5,"
           "Growth change on,Growth change to,Kits,Kits expire,Ordered by,Checked by,Signed on,Room").split(",")
MAP = """# What the columns of the invented export are.
intake: csv
rows: patient
delimiter: ";"
decimal: comma
dates: day.month.year
procedure_time: procedure
record_width: 9
columns:
  "Record": patient.record
  "Name": patient.name
  "Born": patient.born
  "Allergies": {field: patient.allergies, separator: ",", codes: allergies}
  "Language": {field: language, codes: languages}
  "Paper": {field: paper, codes: papers}
  "Large print": {field: large_print, codes: answers}
  "Course": {field: protocol, codes: courses}
  "First injection": events.stimulation
  "Timed injection": events.trigger
  "Timed at": events.trigger.time
  "Procedure": events.retrieval
  "Collection": events.procedure
  "Test": events.test
  "First patch": events.start
  "Sampletide": doses.calm
  "Change on": changes.calm.from
  "Change to": changes.calm.dose
  "Vacuprine": doses.growth
  "Vacuprine from day 5": doses.growth.5
  "Growth change on": changes.growth.from
  "Growth change to": changes.growth.dose
  "Kits": dispensed.examplin-kit
  "Kits expire": dispensed.examplin-kit.expires
  "Ordered by": signatures.ordered_by
  "Checked by": signatures.checked_by
  "Signed on": signatures.on
ignore: [Room]
codes:
  allergies: {"no": none, "latex": latex, "soy": soy}
  languages: {"E": en, "S": es}
  papers: {"A": a4, "L": letter}
  answers: {"y": "yes", "n": "no"}
  courses: {%s}
"""


def map_of(courses):
    text = MAP % ", ".join(f'"{course}": {COURSES[course]}' for course in courses)
    if not {"LINING", "PLACES"} & set(courses):
        text = text.replace('  "First patch": events.start\n', "").replace("ignore: [Room]", "ignore: [Room, First patch]")
    return text


def day(date):
    return date.strftime("%d.%m.%Y")


def random_for(seed, number):
    """Each patient has a stream of her own, so that one more row changes no other."""
    return random.Random(f"{seed}:{number}")


def good_row(number, as_of, args):
    chance = random_for("patient", number)
    start = as_of + datetime.timedelta(days=chance.randint(1, 9))
    course = "CALL" if args.short else chance.choice(["SHORT", *args.courses])
    row = dict.fromkeys(HEADING, "")
    row["Record"] = f"LQ-{number:06d}"
    row["Name"] = f"{chance.choice(FIRST)} {chance.choice(LAST)}"
    row["Born"] = day(datetime.date(chance.randint(1982, 2003), chance.randint(1, 12), chance.randint(1, 28)))
    row["Allergies"] = chance.choice(["no", "no", "no", "latex", "latex, soy"])
    language = chance.choice(args.languages)
    row["Language"] = {"en": "E", "es": "S"}[language]
    row["Paper"] = chance.choice(["A", "A", "A", "L"])
    row["Large print"] = "y" if chance.random() < 0.05 else "n"
    row["Course"] = course
    row["Room"] = f"B{chance.randint(1, 9)}"
    row["Ordered by"] = "I. Sternkamp, nurse"
    row["Checked by"] = chance.choice(["A. Fennimore, pharmacist"] * 9 + [""])
    row["Signed on"] = day(as_of - datetime.timedelta(days=1))
    if course in ("LINING", "PLACES"):
        row["First patch"] = day(start)
        return row
    if course == "SUPPORT":
        row["Collection"] = day(start)
        row["Test"] = day(start + datetime.timedelta(days=13))
        return row
    row["First injection"] = day(start)
    changes = chance.random() < 0.2
    if course in ("PENS", "MIXED"):
        if changes and course == "PENS":
            row["Growth change on"] = day(start + datetime.timedelta(days=chance.randint(2, 7)))
            row["Growth change to"] = chance.choice(["125 IU", "187,5 IU", "250 IU"])
        elif changes:
            row["Change on"] = day(start + datetime.timedelta(days=3))
            row["Change to"] = chance.choice(["20 mg", "40 mg"])
        return row
    row["Kits"] = str(chance.randint(0, 8))
    row["Kits expire"] = "06/2027" if row["Kits"] != "0" else ""
    if course in ("SHORT", "WAITS"):
        row["Timed injection"] = day(start + datetime.timedelta(days=10))
        hour = chance.choice(["21:30", "22:00", "22:30"])
        row["Timed at"] = hour
        row["Procedure"] = f"{day(start + datetime.timedelta(days=12))} {int(hour[:2]) - 12:02d}:{hour[3:]}"
    if course == "SHORT":
        row["Sampletide"] = f"{chance.choice([15, 20, 25, 30])} syringe units"
        if changes:
            row["Change on"] = day(start + datetime.timedelta(days=6))
            row["Change to"] = f"{chance.choice([10, 35])} syringe units"
    elif course == "CALL":
        row["Vacuprine"] = chance.choice(["75 IU", "112,5 IU", "150 IU"])
        row["Vacuprine from day 5"] = chance.choice(["", "187,5 IU", "225 IU"])
        if changes:
            row["Growth change on"] = day(start + datetime.timedelta(days=8))
            row["Growth change to"] = "150 IU"
    return row


def line(row):
    out = io.StringIO()
    csv.writer(out, delimiter=";", lineterminator="\r\n").writerow([row[name] for name in HEADING])
    return out.getvalue().encode("utf-8")


# ---- what goes wrong: each gives the bytes of one or more rows, and the reason for which they must be refused ----

def cell(name, value):
    def spoil(row):
        return [line({**row, name: value(row) if callable(value) else value})]
    return spoil


def cut(row):
    return [line(row).rsplit(b";", 1)[0] + b"\r\n"]


def twice(row):
    return [line(row), line(row)]


def of_two(row):
    return [line(row), line({**row, "Name": "Somebody Else-Entirely"})]


def two_orders(row):
    return [line(row), line({**row, "Room": "B0", "Paper": "A" if row["Paper"] == "L" else "L"})]


def bad_bytes(row):
    return [line({**row, "Name": "BAD"}).replace(b"BAD", b"Zo\xeb Latin-One")]


def nul(row):
    return [line({**row, "Name": "BAD"}).replace(b"BAD", b"Nul\x00Byte")]


def stray_quote(row):
    return [line({**row, "Name": "BAD"}).replace(b"BAD", b'Stray "Quote Person')]


def of_course(course, *cells):
    """A fault that only a row of this course can have; others get the row of one. Cells are a name and a value each."""
    def spoil(row, number, as_of, args):
        free = argparse.Namespace(**{**vars(args), "short": False})
        while row["Course"] != course:
            number += 1_000_000 - 7
            row = {**good_row(number, as_of, free), "Record": row["Record"]}
        return [line({**row, **dict(zip(cells[::2], cells[1::2]))})]
    spoil.whole = True
    return spoil


BAD = [
    ("column-count", cut),
    ("record-missing", cell("Record", "")),
    # Never so short that it is what another cell holds: a row of nobody's that has such a cell may be this patient's.
    ("record-short", cell("Record", lambda row: row["Record"][-6:].lstrip("0").rjust(4, "7"))),
    ("record-mangled", cell("Record", lambda row: f"1,{row['Record'][-6:]}E+11")),
    ("row-twice", twice),
    ("record-of-two", of_two),
    ("record-twice", two_orders),
    ("row-unreadable", bad_bytes),
    ("row-unreadable", nul),
    ("row-unreadable", stray_quote),
    ("cell-missing", cell("Name", "  ")),
    ("cell-missing", cell("Language", "")),
    ("odd-character", cell("Name", "Right\u202etfeL Hidden")),
    ("unknown-code", cell("Course", "MINE")),
    ("unknown-code", cell("Language", "F")),
    ("bad-date", cell("Born", "31.02.1990")),
    ("short-year", cell("Born", "3.2.90")),
    ("born-after", cell("Born", "03.02.2031")),
    ("signing-undated", cell("Signed on", "")),
    ("midnight-doubtful", of_course("SHORT", "Procedure", "20.12.2026 00:00")),
    ("hours-apart", of_course("SHORT", "Timed at", "07:30")),
    ("units-ambiguous", of_course("SHORT", "Sampletide", "20 units")),
    ("volume-between-lines", of_course("SHORT", "Sampletide", "20,5 syringe units")),
    ("no-unit", of_course("CALL", "Vacuprine", "150")),
    ("dose-over-limit+day-over-limit+no-container", of_course("CALL", "Vacuprine", "1500 IU")),
    ("dose-missing", of_course("CALL", "Vacuprine", "")),
    ("name-too-long", cell("Name", "Wilhelmina " + 9 * "Featherstitch")),
    ("glyph-missing", cell("Name", "\u5922\u5922 Inkpen")),
    ("unknown-code", cell("Allergies", "feathers")),
    ("unknown-code", cell("Large print", "perhaps")),
    ("bad-date+signing-undated", cell("Signed on", "30.02.2026")),
    ("not-positive", of_course("SHORT", "Sampletide", "0 syringe units")),
    ("bare-decimal", of_course("SHORT", "Sampletide", ",5 syringe units")),
    ("exponent", of_course("SHORT", "Sampletide", "2e1 syringe units")),
    ("odd-character", of_course("SHORT", "Sampletide", "\uff120 syringe units")),
    ("dose-over-limit+day-over-limit+no-container", of_course("SHORT", "Sampletide", "20 mg")),
    ("dose-under-limit", of_course("CALL", "Vacuprine", "10 IU")),
    ("unknown-item", of_course("CALL", "Sampletide", "20 syringe units")),
    ("unknown-event", of_course("CALL", "Procedure", "20.12.2026 10:00")),
    ("exact-time-missing", of_course("SHORT", "Timed at", "")),
    ("bad-time", of_course("SHORT", "Timed at", "half past nine")),
    ("count-missing", of_course("CALL", "Kits", "", "Kits expire", "06/2027")),
    ("bad-number", of_course("CALL", "Kits", "three")),
    ("change-undated", of_course("SHORT", "Change on", "", "Change to", "10 syringe units")),
    ("missing-key", of_course("SHORT", "Change on", "09.12.2026", "Change to", "")),
]


def second_night(number, row, as_of):
    """What became of a patient by the next day: her row then, and what the run must make of it."""
    turn = random_for("night", number).random()
    if turn < 0.05:
        return None, "vanished"
    if turn < 0.25 and row["Course"] == "SHORT" and not row["Change on"]:
        start = datetime.datetime.strptime(row["First injection"], "%d.%m.%Y").date()
        changed = {**row, "Change on": day(start + datetime.timedelta(days=6)), "Change to": "10 syringe units"}
        return changed, "packet"
    if turn < 0.30:
        return {**row, "Language": "F"}, "refused"
    return row, "unchanged"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--rows", type=int, required=True)
    parser.add_argument("--bad", type=float, default=3.0)
    parser.add_argument("--night", type=int, default=1)
    parser.add_argument("--languages", default="en")
    parser.add_argument("--protocols", type=pathlib.Path, default=pathlib.Path("samples/protocols"))
    parser.add_argument("--every-fault", action="store_true", help="fails where the bad rows are too few for each kind")
    parser.add_argument("--short", action="store_true", help="only the course with the fewest pages")
    args = parser.parse_args()
    args.languages = args.languages.split(",")
    there = {path.stem for path in args.protocols.glob("*.yaml")}
    args.courses = [course for course, protocol in COURSES.items() if protocol in there]
    as_of = datetime.date(2026, 12, 3)
    chance = random.Random("intake")
    bad_rows = round(args.rows * args.bad / 100)
    if args.every_fault and bad_rows < len(BAD):
        parser.error(f"{bad_rows} bad rows cannot be of {len(BAD)} kinds")
    # Every kind of fault before any a second time, spread over the file.
    places = sorted(chance.sample(range(args.rows), bad_rows))
    faults = {place: BAD[i % len(BAD)] for i, place in enumerate(places)}
    args.folder.mkdir(parents=True, exist_ok=True)
    key, nights, body, row_number, number = [], [], [], 2, 0
    added = [] if args.night == 1 else range(args.rows, args.rows + max(1, args.rows // 20))
    while number < args.rows:
        row = good_row(number, as_of, args)
        if number in faults:
            code, spoil = faults[number]
            lines = spoil(row, number, as_of, args) if hasattr(spoil, "whole") else spoil(row)
            for i, spoiled in enumerate(lines):
                body.append(spoiled)
                key.append((row_number + i, code))
            row_number += len(lines)
        else:
            outcome = "packet"
            if args.night == 2:
                row, outcome = second_night(number, row, as_of)
            nights.append((f"LQ-{number:06d}", outcome))
            if row is not None:
                body.append(line(row))
                row_number += 1
        number += 1
    for number in added:
        body.append(line(good_row(number, as_of, args)))
        nights.append((f"LQ-{number:06d}", "new"))
    heading = ";".join(HEADING).encode() + b"\r\n"
    (args.folder / "intake.csv").write_bytes(b"\xef\xbb\xbf" + heading + b"".join(body))
    (args.folder / "map.yaml").write_text(map_of(args.courses))
    for name, head, rows in (("key.csv", ("row", "code"), key), ("night.csv", ("record", "outcome"), nights)):
        with open(args.folder / name, "w", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(head)
            writer.writerows(rows)


main()
