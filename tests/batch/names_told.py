"""Looks for patients' names where none belongs: in what a run says, in the names of its files, and in its tables.

    python3 tests/batch/names_told.py INTAKE FOLDER SAID...

INTAKE is a CSV of make-intake.py or samples/, a Bundle, an .ndjson or a folder of such; FOLDER is the run's, or none where
it made none. SAID are files that hold what was printed, or the names of files that were there for a while. Prints what
is told; nothing where it is none. Packets, plans and the refused rows themselves may name who they are about.
"""
import json
import pathlib
import re
import sys


def words_of(text):
    """Those that are told apart from any other word; a case of the tests gives somebody the name of an item."""
    return {word for word in re.split(r"[\s\"]+", text) if len(word) > 3 and not word.islower()}


def names_in_csv(intake):
    names = set()
    for line in intake.read_bytes().splitlines()[1:]:
        cells = line.decode("utf-8", "replace").split(";")
        if len(cells) > 1:
            names |= words_of(cells[1])
    return names


def names_in_json(value):
    if isinstance(value, list):
        return set().union(*map(names_in_json, value))
    if not isinstance(value, dict):
        return set()
    names = set()
    if value.get("resourceType") == "Patient":
        for name in value.get("name", []):
            names |= words_of(" ".join([name.get("family", ""), name.get("text", ""), *name.get("given", [])]))
    return names.union(*map(names_in_json, value.values()))


def names_in_line(line):
    try:
        return names_in_json(json.loads(line))
    except ValueError:
        return set()


def names_of(intake):
    if intake.is_dir():
        return set().union(*map(names_of, intake.glob("*.ndjson")))
    if intake.suffix == ".csv":
        return names_in_csv(intake)
    text = intake.read_text(encoding="utf-8-sig", errors="replace")
    if intake.suffix == ".json":
        return names_in_line(text)
    return set().union(*map(names_in_line, text.splitlines()))


def told(intake, folder, said):
    names = names_of(intake)
    if not names:
        return ["there are no names to look for"]
    text = list(said)
    for path in sorted(folder.rglob("*")) if folder.is_dir() else []:
        name = str(path.relative_to(folder))
        text.append(name)
        own = name.startswith(("packets/", "plans/", "print-run-", "refused-rows."))
        if path.is_file() and not own:
            text.append(path.read_text(encoding="utf-8", errors="replace"))
    text = "\n".join(text)
    # A long one may be cut short.
    return [name for name in sorted(names)
            if re.search(rf"\b{re.escape(name[:12])}" + (r"\b" if len(name) <= 12 else ""), text)]


if __name__ == "__main__":
    found = told(pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]),
                 [pathlib.Path(name).read_text(encoding="utf-8", errors="replace") for name in sys.argv[3:]])
    print("\n".join(found))
    sys.exit(1 if found else 0)
