"""Holds a finished run's folder against its intake, row by row.

    python3 tests/batch/check-run.py FOLDER INTAKE KEY SAID...

FOLDER is the run's, INTAKE the CSV that make-intake.py wrote (no cell of it holds a line break), KEY its key.csv.
SAID are files that hold what the run printed. Prints what is wrong; nothing is wrong where it prints nothing.
"""
import csv
import hashlib
import os
import pathlib
import stat
import subprocess
import sys

from names_told import told

folder, intake, key = map(pathlib.Path, sys.argv[1:4])
said = [pathlib.Path(name).read_text() for name in sys.argv[4:]]
faults = []


def expect(good, what):
    if not good:
        faults.append(what)


def table(name):
    with open(folder / name, newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


lines = intake.read_bytes().splitlines(keepends=True)
rows = set(range(2, len(lines) + 1))
ledger, refused = table("ledger.csv"), table("refused.csv")

# Every row belongs to one patient, or is refused by itself.
owners = {}
for patient in ledger:
    for row in map(int, patient["rows"].split()):
        expect(row not in owners, f"row {row} belongs to two patients")
        owners[row] = patient
alone = {int(reason["row"]) for reason in refused if not reason["record"]}
expect(not alone & set(owners), "a row is refused by itself and belongs to a patient")
expect(set(owners) | alone == rows, f"rows without an end: {sorted(rows - set(owners) - alone)[:9]}")

# The last line says what the ledger holds.
count = {kind: sum(patient["outcome"] == kind for patient in ledger) for kind in ("packet", "unchanged", "refused")}
expect(sum(count.values()) == len(ledger), "an outcome that is none of the three")
last = f"{len(ledger)} patients = {count['packet']} packets + {count['unchanged']} unchanged + {count['refused']} refused"
expect(said[0].rstrip("\n").split("\n")[-1] == last, f"the last line is not: {last}")

# Each bad row is refused for its own reason, and no other row is.
reasons = {}
for reason in refused:
    reasons.setdefault(int(reason["row"]), set()).add(reason["code"])
gone = set(alone)
for patient in ledger:
    if patient["outcome"] == "refused":
        gone |= set(map(int, patient["rows"].split()))
with open(key, newline="") as file:
    keyed = {int(line["row"]): line["code"] for line in csv.DictReader(file)}
for row, code in keyed.items():
    group = map(int, owners[row]["rows"].split()) if row in owners else [row]
    found = set().union(*(reasons.get(member, set()) for member in group))
    expect(row in gone and found == set(code.split("+")), f"row {row} must be refused for {code} alone: {sorted(found)}")
expect(gone <= set(keyed), f"refused without a fault: {sorted(gone - set(keyed))[:9]}")

# They are kept byte for byte, in their order, below the heading.
kept = (folder / "refused-rows.csv").read_bytes()
expect(kept == lines[0] + b"".join(lines[row - 1] for row in sorted(gone)), "refused-rows.csv is not those rows")

# A few packets have the pages that the ledger says.
for patient in [patient for patient in ledger if patient["outcome"] == "packet"][:5]:
    pages = subprocess.run(["qpdf", "--show-npages", folder / patient["file"]], capture_output=True, text=True).stdout
    expect(pages.strip() == patient["pages"], f"{patient['file']} has not {patient['pages']} pages")

# The ledger's files are there, and no other ones; each is its owner's alone.
for patient in ledger:
    if patient["outcome"] == "packet":
        bytes_of = (folder / patient["file"]).read_bytes()
        expect(hashlib.sha256(bytes_of).hexdigest() == patient["sha256"], f"{patient['file']} is not the ledger's")
files = {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}
tables = {"ledger.csv", "refused.csv", "refused-rows.csv", "vanished.csv", "run.json", ".journal"}
prints = {name for name in files if name.startswith("print-run")}
wanted = tables | prints | {patient["file"] for patient in ledger if patient["file"]}
wanted |= {patient["plan"] for patient in ledger if patient["plan"]}
expect(files == wanted, f"other files: {sorted(files ^ wanted)[:9]}")
for name in files:
    expect(stat.S_IMODE(os.stat(folder / name).st_mode) == 0o600, f"{name} can be read by others")

# Nobody's name is in anything that is said, in a file's name, or in a table but the rows themselves.
for name in told(intake, folder, said):
    expect(False, f"a name is told: {name}")

print("\n".join(faults))
sys.exit(1 if faults else 0)
