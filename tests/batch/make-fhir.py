"""Writes the orders of the sample export as FHIR R4, and one patient whose orders follow no protocol.

    python3 tests/batch/make-fhir.py CSV FOLDER

CSV has the columns of samples/intake/intake.csv. FOLDER gets bundle.json, whose references are addresses, and the
folder export with a bulk export's .ndjson files. All people are invented.
"""
import csv
import pathlib
import sys
import uuid

from exact_json import Number, written

HOME = "https://lindenquay.example/"
UCUM = "http://unitsofmeasure.org"
UNITS = {"IU": "[iU]", "syringe units": "{syringe_unit}", "tablet": "{tablet}"}


def concept(kind, code):
    return {"coding": [{"system": HOME + kind, "code": code}]}


def day(text):
    return "-".join(reversed(text.split(".")))


def amount(value, unit):
    return {"value": Number(value), "unit": unit, "system": UCUM, "code": UNITS[unit]}


def dosage(sequence, value, unit, days=None, **more):
    dose = {"sequence": sequence, **more, "doseAndRate": [{"doseQuantity": amount(value, unit)}]}
    if days:
        dose.setdefault("timing", {"repeat": {}})
        dose["timing"]["repeat"]["boundsDuration"] = {"value": Number(str(days)), "unit": "days", "system": UCUM,
                                                      "code": "d"}
    return dose


def timed(when, start=None, end=None):
    repeat = {"boundsPeriod": {"start": start, **({"end": end} if end else {})}} if start else {}
    return {"timing": {"repeat": {**repeat, "frequency": Number("1"), "period": Number("1"), "periodUnit": "d",
                                  "when": [when]}}}


def order(number, patient, code, dosages, row, course=None):
    return {
        "resourceType": "MedicationRequest", "id": number, "status": "active", "intent": "order",
        **({"instantiatesCanonical": [HOME + "courses/" + course]} if course else {}),
        "medicationCodeableConcept": concept("medicines", code),
        "subject": {"reference": "Patient/" + patient},
        "authoredOn": day(row["Signed on"]), "requester": {"display": row["Ordered by"]},
        "dosageInstruction": dosages,
    }


def person(patient, row):
    *given, family = row["Name"].split(" ")
    return {
        "resourceType": "Patient", "id": patient,
        "identifier": [{"system": HOME + "record", "value": row["Record"]},
                       {"system": HOME + "room", "value": row["Room"] or "none"}],
        "name": [{"use": "official", "family": family, "given": given}, {"use": "old", "family": "Formerly"}],
        "birthDate": day(row["Born"]),
        "communication": [{"language": {"coding": [{"system": "urn:ietf:bcp:47", "code": "en"}]}, "preferred": True}],
    }


def appointment(number, patient, code, start):
    return {"resourceType": "Appointment", "id": number, "status": "booked", "serviceType": [concept("visits", code)],
            "start": start, "participant": [{"actor": {"display": "a room"}, "status": "accepted"},
                                            {"actor": {"reference": "Patient/" + patient}, "status": "accepted"}]}


def procedure(number, patient, when):
    return {"resourceType": "Procedure", "id": number, "status": "preparation", "code": concept("procedures", "TAKE"),
            "subject": {"reference": "Patient/" + patient}, "performedDateTime": when}


def resources(n, row):
    patient = f"p{n}"
    orders = []
    if row["Sampletide"]:
        orders.append(order(f"m{n}-calm", patient, "SAM", [
            dosage(1, row["Sampletide"], "syringe units", text=f"{row['Sampletide']} syringe units each morning",
                   **timed("MORN"))], row, row["Course"]))
    if row["Vacuprine"]:
        first, later = row["Vacuprine"].split(" / ")
        start, second = later.split("=")
        orders.append(order(f"m{n}-growth", patient, "VAC", [
            dosage(2, second.split()[0].replace(",", "."), "IU"),
            dosage(1, first.split()[0], "IU", int(start) - 1)], row, row["Course"]))
    allergy = {"resourceType": "AllergyIntolerance", "id": f"a{n}", "code": concept("allergies", row["Allergies"]),
               "patient": {"reference": "Patient/" + patient}}
    yield from [person(patient, row), allergy, *orders]
    yield appointment(f"v{n}-first", patient, "FIRST", day(row["First injection"]) + "T09:00:00Z")
    if row["Timed at"]:
        hour, minute = row["Timed at"].split(":")
        yield appointment(f"v{n}-timed", patient, "TIMED",
                          f"{day(row['Timed injection'])}T{int(hour) + 1}:{minute}:00.000+01:00")
        date, time = row["Procedure"].split(" ")
        yield procedure(f"t{n}", patient, f"{day(date)}T{time}:00Z")
    if row["Checked by"]:
        yield {"resourceType": "Provenance", "id": f"c{n}", "recorded": day(row["Signed on"]) + "T15:00:00Z",
               "target": [{"reference": "MedicationRequest/" + one["id"]} for one in orders],
               "agent": [{"type": {"coding": [{"system": HOME + "agents", "code": "verifier"}]},
                          "who": {"display": row["Checked by"]}}]}


def own_course():
    row = {"Record": "LQ-0104", "Name": "Wilmot Thistledown", "Born": "21.06.1990", "Room": "B4",
           "Ordered by": "I. Sternkamp, nurse", "Signed on": "02.12.2026"}
    yield person("p4", row)
    yield order("m4-growth", "p4", "VAC", [
        dosage(1, "150", "IU", text="150 IU in the evening, for 4 days", **timed("EVE", "2026-12-05", "2026-12-08")),
        dosage(2, "187.5", "IU", **timed("EVE", "2026-12-09", "2026-12-14"))], row)
    yield order("m4-ready", "p4", "NON", [
        dosage(1, "1", "tablet", **timed("MORN", "2026-12-05", "2026-12-14")),
        dosage(1, "0.5", "tablet", **timed("HS", "2026-12-05", "2026-12-14"))], row)
    yield procedure("t4", "p4", "2026-12-16T10:30:00Z")


def address(kind, name):
    return "urn:uuid:" + str(uuid.uuid5(uuid.NAMESPACE_URL, HOME + kind + "/" + name))


def with_addresses(value):
    if isinstance(value, dict):
        return {key: address(*one.split("/")) if key == "reference" else with_addresses(one)
                for key, one in value.items()}
    return [with_addresses(one) for one in value] if isinstance(value, list) else value


folder = pathlib.Path(sys.argv[2])
(folder / "export").mkdir(parents=True, exist_ok=True)
with open(sys.argv[1], newline="", encoding="utf-8-sig") as file:
    everything = [one for n, row in enumerate(csv.DictReader(file, delimiter=";"), 1) for one in resources(n, row)]
everything += own_course()
entries = [{"fullUrl": address(one["resourceType"], one["id"]), "resource": with_addresses(one)} for one in everything]
bundle = {"resourceType": "Bundle", "type": "collection", "entry": entries}
(folder / "bundle.json").write_text(written(bundle, 1) + "\n", encoding="utf-8")
for kind in sorted({one["resourceType"] for one in everything}):
    lines = [written(one) + "\n" for one in everything if one["resourceType"] == kind]
    (folder / "export" / f"{kind}.ndjson").write_text("".join(lines), encoding="utf-8")
