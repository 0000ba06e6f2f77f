"""Orders in FHIR, each wrong or odd in one way, as one export; and what must become of each.

    python3 tests/batch/test_fhir_cases.py write EXPORT FILE     FILE.ndjson, from the resources in EXPORT
    python3 tests/batch/test_fhir_cases.py check EXPORT FOLDER   FOLDER is the run's; prints what is wrong
    python3 tests/batch/test_fhir_cases.py codes EXPORT          the codes that the cases are refused with

A case is a patient of the samples under other ids: p1 follows a protocol, p2 one with two amounts, p4 none. It is
refused for exactly one reason, or gives a plan that holds a text.
"""
import copy
import csv
import pathlib
import sys

from exact_json import Number, read, written

UCUM = "http://unitsofmeasure.org"
HOME = "https://lindenquay.example/"
command, export = sys.argv[1], pathlib.Path(sys.argv[2])
everything = [read(line) for path in sorted(export.glob("*.ndjson")) for line in path.read_text().splitlines()]
cases = []


def of(kind, resources):
    return [one for one in resources if one["resourceType"] == kind]


def patient_of(one):
    return one["id"].split("-")[0][1:]


def again(value, suffix):
    """The same resources under other ids."""
    if isinstance(value, dict):
        return {key: one + suffix if key in ("id", "reference") else again(one, suffix) for key, one in value.items()}
    return [again(one, suffix) for one in value] if isinstance(value, list) else value


def case(base, expected, change=None):
    """`expected`: a code that it is refused with; or after '+', a text of its plan."""
    number = len(cases) + 1
    resources = again([one for one in everything if patient_of(one) == base[1]], f"-{number}")
    record = f"LQ-{1000 + number}"
    of("Patient", resources)[0]["identifier"][0]["value"] = record
    parts = {kind: of(kind, resources) for kind in ("Patient", "MedicationRequest", "Appointment", "Procedure",
                                                    "AllergyIntolerance", "Provenance")}
    if change:
        added = change(parts)
        resources += [one for one in (added if isinstance(added, list) else [])
                      if isinstance(one, str) or "resourceType" in one]
    cases.append((record, expected, resources))


def orders(change, which=0):
    def apply(parts):
        change(parts["MedicationRequest"][which])
    return apply


def dosage(change, order=0, which=0):
    return orders(lambda one: change(one["dosageInstruction"][which]), order)


def set_in(**values):
    return lambda one: one.update(values)


def repeat(**values):
    return lambda one: one.setdefault("timing", {}).setdefault("repeat", {}).update(values)


def only(**values):
    return lambda one: one["timing"].update(repeat=values)


def dose(**values):
    return lambda one: one["doseAndRate"][0]["doseQuantity"].update(values)


def rate(**values):
    return lambda one: one.update(doseAndRate=[values])


def text(words):
    return set_in(text=words)


def quantity(value, code):
    return {"value": Number(value), "system": UCUM, "code": code}


def concept(kind, code):
    return {"coding": [{"system": HOME + kind, "code": code}]}


def one_dosage(change):
    """An own course of one order with one dosage."""
    def apply(parts):
        order = parts["MedicationRequest"][0]
        order["dosageInstruction"] = order["dosageInstruction"][:1]
        order["dosageInstruction"][0].pop("text")
        change(order["dosageInstruction"][0])
    return apply


def period(start, end=None):
    return {"start": start, **({"end": end} if end else {})}


DAILY = {"frequency": Number("1"), "period": Number("1"), "periodUnit": "d"}
FIVE = {"boundsPeriod": period("2026-12-05", "2026-12-09")}

# --- One who shares an appointment with another.
case("p1", "+")

# --- Good as they are, or in another form.
case("p1", "+doses: {calm: [{from: \"1\", dose: \"20 syringe units\"}]}")
case("p2", "+growth: [{from: \"1\", dose: \"150 units\"}, {from: \"5\", dose: \"187.5 units\"}]")
case("p4", "+{from: \"5\", dose: \"187.5 units\"}")
case("p4", "+weekdays: [\"mon\", \"thu\"]", one_dosage(only(
    dayOfWeek=["mon", "thu"], when=["EVE"], frequency=Number("2"), period=Number("1"), periodUnit="wk",
    boundsPeriod=period("2026-12-07"))))
case("p4", "+every: \"2 days\"", one_dosage(only(when=["EVE"], frequency=Number("1"), period=Number("2"),
                                                 periodUnit="d", **FIVE)))
case("p4", "+every: \"7 days\"", one_dosage(only(when=["EVE"], frequency=Number("1"), period=Number("1"),
                                                 periodUnit="wk", **FIVE)))
case("p4", "+at: [\"08:00\", \"20:30\"]", one_dosage(only(timeOfDay=["08:00:00", "20:30:00"], frequency=Number("2"),
                                                          period=Number("1"), periodUnit="d", **FIVE)))
case("p4", "+end: {doses: \"3\"}", one_dosage(only(when=["EVE"], count=Number("3"),
                                                   boundsPeriod=period("2026-12-05"))))
case("p4", "+end: {days: \"14\"}", one_dosage(only(when=["EVE"], boundsPeriod=period("2026-12-05"),
                                                   boundsDuration=quantity("2", "wk"))))


def as_needed(parts):
    parts["MedicationRequest"].pop(0)
    order = parts["MedicationRequest"][0]
    order["dosageInstruction"] = order["dosageInstruction"][:1]
    order["dosageInstruction"][0].update(
        asNeededBoolean=True, maxDosePerPeriod={"numerator": quantity("2", "{tablet}"),
                                                "denominator": quantity("1", "d")})
    order["dosageInstruction"][0]["timing"] = {"repeat": FIVE}


case("p4", "+as_needed: {most: \"2 per day\"}", as_needed)
case("p4", "+at: [\"morning\"], start: {on: \"2026-12-05\"}",
     one_dosage(lambda one: one.update(route=concept("routes", "SC"),
                                       timing={"repeat": {"when": ["MORN"], **FIVE}})))
case("p1", "+growth", lambda parts: [{**copy.deepcopy(parts["MedicationRequest"][0]), "id": "over",
                                      "status": "completed"}] and parts["Patient"][0]["name"][0].update(
                                          given=["Odile", "growth"]))


def contained(order):
    order["contained"] = [{"resourceType": "Medication", "id": "box", "code": order.pop("medicationCodeableConcept")}]
    order["medicationReference"] = {"reference": "#box"}


case("p1", "+dose: \"20 syringe units\"", orders(contained))
case("p1", "+trigger: \"2026-12-14 22:30\"", dosage(text("20 syringe units (0.2 mL), once daily at 08:00")))
case("p2", "+dose: \"187.5 units\"", dosage(text("187.5 IU"), 0, 0))
case("p4", "+medicine: \"nonsensol\"", dosage(text("One tablet, 1 time a day, for 10 days"), 1))
case("p4", "text-differs", dosage(text("Take two"), 1))
case("p4", "+medicine: \"nonsensol\"", dosage(text("half a tablet at bedtime"), 1, 1))
case("p1", "+name: \"Odile Quince\"", lambda parts: parts["Patient"][0]["name"].append({"use": "old", "text": "X"}))
case("p1", "+retrieval: \"2026-12-16 10:30\"",
     lambda parts: [{**copy.deepcopy(parts["Procedure"][0]), "id": "called-off", "status": "not-done",
                     "performedDateTime": "2026-12-17T10:30:00Z"}])
case("p1", "+protocol: \"half-first\"",
     orders(lambda one: one.update(groupIdentifier={"system": HOME + "groups", "value": "7"})))
case("p1", "+protocol: \"half-first\"",
     orders(lambda one: one.update(category=[concept("courses", "SHORT")], instantiatesCanonical=None)
            or one.pop("instantiatesCanonical")))
case("p1", "+allergies: [\"none\"]", lambda parts: [
    {**copy.deepcopy(parts["AllergyIntolerance"][0]), "id": "refuted", "code": concept("allergies", "latex"),
     "verificationStatus": {"coding": [{"code": "refuted"}]}}])

# --- The order itself.
for status in ("cancelled", "draft", "on-hold", "entered-in-error", "unknown"):
    case("p1", "order-inactive", orders(set_in(status=status)))
case("p1", "orders-missing", orders(set_in(status="completed")))
case("p1", "orders-missing", orders(set_in(status="stopped")))
for intent in ("proposal", "plan", "original-order"):
    case("p1", "intent-differs", orders(set_in(intent=intent)))
case("p1", "order-forbids", orders(set_in(doNotPerform=True)))
case("p1", "modifier-extension", orders(set_in(modifierExtension=[{"url": HOME + "x", "valueBoolean": True}])))
case("p1", "modifier-extension", dosage(set_in(modifierExtension=[{"url": HOME + "x", "valueBoolean": True}])))
case("p1", "modifier-extension", orders(set_in(implicitRules=HOME + "rules")))
case("p1", "odd-character", orders(set_in(requester={"display": "I. \u202eSternkamp"})))
case("p1", "unknown-code", orders(set_in(medicationCodeableConcept=concept("medicines", "XYZ"))))
case("p1", "unknown-code", orders(set_in(medicationCodeableConcept={"text": "Sampletide"})))
case("p1", "codes-disagree", orders(set_in(medicationCodeableConcept={
    "coding": concept("medicines", "SAM")["coding"] + concept("medicines", "VAC")["coding"]})))
case("p1", "item-unknown", orders(set_in(medicationCodeableConcept=concept("medicines", "VAC"))))
case("p1", "reference-unresolved", orders(lambda one: one.pop("medicationCodeableConcept") and one.update(
    medicationReference={"reference": "Medication/m9"})))
case("p1", "unknown-code", orders(set_in(instantiatesCanonical=[HOME + "courses/OTHER"])))
case("p1", "codes-disagree", orders(set_in(instantiatesCanonical=[HOME + "courses/SHORT", HOME + "courses/CALL"])))
case("p1", "protocol-mixed", lambda parts: [{
    **copy.deepcopy(parts["MedicationRequest"][0]), "id": "other", "instantiatesCanonical": [HOME + "courses/CALL"]}])
case("p1", "resource-twice", lambda parts: [copy.deepcopy(parts["MedicationRequest"][0])])
case("p1", "order-twice", lambda parts: [{**copy.deepcopy(parts["MedicationRequest"][0]), "id": "twice"}])
case("p1", "resource-unmapped", lambda parts: [{
    "resourceType": "MedicationStatement", "id": "said", "status": "active",
    "subject": parts["MedicationRequest"][0]["subject"],
    "medicationCodeableConcept": concept("medicines", "SAM")}])

# --- How much.
case("p1", "dose-missing", orders(lambda one: one.pop("dosageInstruction")))
case("p1", "dose-missing", dosage(lambda one: one.pop("doseAndRate")))
case("p1", "dose-range", dosage(rate(doseRange={"low": quantity("10", "{syringe_unit}"),
                                                "high": quantity("20", "{syringe_unit}")})))
case("p1", "dose-rate", dosage(rate(rateQuantity=quantity("1", "mL/h"))))
case("p1", "dose-rate", dosage(rate(rateRatio={"numerator": quantity("1", "mL"), "denominator": quantity("1", "h")})))
case("p1", "dose-inexact", dosage(dose(comparator="<")))
for code in ("U", "units", "mL/h", "mgs"):
    case("p1", "unit-not-ucum", dosage(dose(code=code, unit="x")))
case("p1", "unit-not-ucum", dosage(dose(system=HOME + "units")))
case("p1", "unit-not-ucum", dosage(lambda one: one["doseAndRate"][0]["doseQuantity"].pop("code")))
case("p1", "text-differs", dosage(dose(unit="mg")))
case("p1", "exponent", dosage(dose(value=Number("2e1"))))
case("p1", "not-positive", dosage(dose(value=Number("-20"))))
case("p1", "not-positive", dosage(dose(value=Number("0"))))
for words in ("25 syringe units", "20 mg", "2 times a day", "20 syringe units twice daily", "at 20:00", "in the evening",
              "every other day", "for 5 days", "until 2026-12-09", "200", "20 mgs", "20 mg/mL", "on Mondays",
              "increase slowly", "only if needed", "1.500", "20 syringe units, not today", "5%", "two of them", "one each morning",
              "take 1 each morning", "20 times a day", "every 2 days"):
    case("p1", "text-differs", dosage(text(words)))
    case("p1", "text-differs", dosage(lambda one, words=words: one.pop("text") and one.update(
        patientInstruction=words)))
case("p1", "dosage-unread", dosage(set_in(additionalInstruction=[{"text": "with food"}])))
case("p1", "dosage-unread", dosage(set_in(site={"text": "thigh"})))
case("p1", "dosage-unread", dosage(set_in(maxDosePerPeriod={"numerator": quantity("2", "mg"),
                                                            "denominator": quantity("1", "d")})))
case("p1", "as-needed-open", dosage(set_in(asNeededBoolean=True)))
case("p1", "as-needed-open", dosage(set_in(
    asNeededBoolean=True, maxDosePerPeriod={"numerator": quantity("30", "{syringe_unit}"),
                                            "denominator": quantity("1", "d")})))
case("p1", "unknown-code", dosage(set_in(route=concept("routes", "IV"))))
case("p1", "route-differs", dosage(set_in(route=concept("routes", "PO"))))

# --- When.
case("p1", "order-differs", dosage(lambda one: one.pop("text") and repeat(when=["EVE"])(one)))
case("p1", "unknown-code", dosage(repeat(when=["AC"])))
case("p1", "unknown-code", dosage(repeat(dayOfWeek=["never"])))
case("p1", "bad-time", dosage(lambda one: only(timeOfDay=["08:00:30"])(one)))
case("p1", "timing-differs", dosage(repeat(frequency=Number("2"))))
case("p1", "timing-unread", dosage(repeat(periodUnit="h", period=Number("24"))))
case("p1", "timing-unread", dosage(repeat(periodMax=Number("2"))))
case("p1", "timing-unread", dosage(repeat(boundsRange={"low": quantity("1", "d")})))
case("p1", "timing-unread", dosage(lambda one: one.update(timing={"event": ["2026-12-05T08:00:00Z"]})))
case("p1", "timing-unread", dosage(lambda one: one.update(timing={"code": {"text": "BID"}})))
case("p1", "bad-number", dosage(repeat(frequency=Number("1.5"))))
case("p1", "order-begins-late", dosage(repeat(boundsPeriod=period("2026-12-05"))))
case("p1", "order-differs", dosage(repeat(boundsPeriod=period("2026-12-03"))))
case("p1", "order-differs", dosage(repeat(boundsPeriod=period("2026-12-04", "2026-12-12"))))
case("p1", "+calm", dosage(repeat(boundsPeriod=period("2026-12-04", "2026-12-13"))))
case("p1", "order-differs", dosage(repeat(count=Number("3"))))
case("p1", "bad-date", dosage(repeat(boundsPeriod=period("2026-12"))))
case("p1", "bad-date", dosage(repeat(boundsPeriod=period("2026-12-04", "2026-12-01"))))
case("p1", "unit-not-ucum", dosage(repeat(boundsDuration={"value": Number("4"), "unit": "days"})))
case("p2", "bounds-missing", dosage(lambda one: one.pop("timing"), 0, 1))
case("p2", "sequence-missing", dosage(lambda one: one.pop("sequence")))
case("p2", "order-differs", dosage(set_in(sequence=Number("1"))))
case("p2", "sequence-unclear", orders(lambda one: one["dosageInstruction"].append(
    copy.deepcopy(one["dosageInstruction"][0]))))
case("p4", "bounds-gap", dosage(repeat(boundsPeriod=period("2026-12-10", "2026-12-14")), 0, 1))
case("p4", "time-of-day-missing", one_dosage(only(**FIVE, **DAILY)))
case("p4", "start-missing", one_dosage(only(when=["EVE"], boundsDuration=quantity("5", "d"))))
case("p4", "start-off-weekday", one_dosage(only(when=["EVE"], dayOfWeek=["mon"], **FIVE)))
case("p4", "rhythm-differs", dosage(repeat(period=Number("2")), 0, 1))
# What the protocol states itself must be what is ordered.
case("p1", "order-differs", lambda parts: [{
    **copy.deepcopy(parts["MedicationRequest"][0]), "id": "fixed",
    "medicationCodeableConcept": concept("medicines", "NON"),
    "dosageInstruction": [{"doseAndRate": [{"doseQuantity": quantity("2", "{tablet}")}]}]}])
case("p1", "+calm", lambda parts: [{
    **copy.deepcopy(parts["MedicationRequest"][0]), "id": "fixed",
    "medicationCodeableConcept": concept("medicines", "NON"),
    "dosageInstruction": [{"doseAndRate": [{"doseQuantity": quantity("1", "{tablet}")}]}]}])

# --- Changes by date: the day of the treatment is whatever it is then.


def dated(*starts, first=None, last=None):
    """The order's dosage, and the same in 25, 30 ... lines from these days on; `last`: the last day of all."""
    def apply(order):
        steps = order["dosageInstruction"]
        steps[0].pop("text")
        steps[0]["timing"]["repeat"].update(boundsPeriod=first) if first else None
        for i, start in enumerate(starts):
            later = copy.deepcopy(steps[0])
            end = last if i + 1 == len(starts) else None
            later["timing"]["repeat"].update(boundsPeriod=period(start, end))
            later["doseAndRate"][0]["doseQuantity"]["value"] = Number(str(25 + 5 * i))
            later["sequence"] = Number(str(2 + i))
            steps.append(later)
    return orders(apply)


def follow(start, end=None, value="25", of=0):
    """A second order of the same medicine."""
    def apply(parts):
        later = copy.deepcopy(parts["MedicationRequest"][of])
        later["id"] += f"-{start}-{value}"
        later["dosageInstruction"][0].pop("text", None)
        later["dosageInstruction"][0]["timing"]["repeat"].update(boundsPeriod=period(start, end))
        later["dosageInstruction"][0]["doseAndRate"][0]["doseQuantity"]["value"] = Number(value)
        return [later]
    return apply


def bounded(end, *more):
    """The first order ends on that day, and others are written beside it."""
    def apply(parts):
        step = parts["MedicationRequest"][0]["dosageInstruction"][0]
        step.pop("text")
        step["timing"]["repeat"].update(boundsPeriod=period("2026-12-04", end))
        return [one for change in more for one in change(parts)]
    return apply


CHANGED = "+changes: [{item: \"calm\", from: \"2026-12-09\", dose: \"25 syringe units\"}]"
case("p1", CHANGED, dated("2026-12-09"))
case("p1", CHANGED, dated("2026-12-09", last="2026-12-13"))
case("p1", CHANGED, dated("2026-12-09", first=period("2026-12-04")))
case("p1", "+, {item: \"calm\", from: \"2026-12-11\", dose: \"30 syringe units\"}]", dated("2026-12-09", "2026-12-11"))
case("p1", "+doses: {calm: [{from: \"1\", dose: \"20 syringe units\"}, {from: \"6\", dose: \"25 syringe units\"}]}",
     dated("2026-12-09", first=period("2026-12-04", "2026-12-08")))
case("p1", "bounds-gap", dated("2026-12-09", first=period("2026-12-10")))
case("p1", "bounds-gap", dated("2026-12-09", "2026-12-08"))
case("p1", "bounds-gap", dated("2026-12-09", "2026-12-09"))
case("p1", "bounds-gap", dated("2026-12-10", first=period("2026-12-04", "2026-12-08")))
case("p1", "order-differs", dated("2026-12-04"))
case("p1", "order-differs", dated("2026-12-02"))
case("p1", "order-differs", dated("2026-12-09", last="2026-12-14"))
# What the protocol states may be changed by date as well.
case("p1", "+changes: [{item: \"ready\", from: \"2026-12-09\", dose: \"2 tablets\"}]", lambda parts: [{
    **copy.deepcopy(parts["MedicationRequest"][0]), "id": "fixed",
    "medicationCodeableConcept": concept("medicines", "NON"),
    "dosageInstruction": [
        {"sequence": Number("1"), "doseAndRate": [{"doseQuantity": quantity("1", "{tablet}")}]},
        {"sequence": Number("2"), "doseAndRate": [{"doseQuantity": quantity("2", "{tablet}")}],
         "timing": {"repeat": {"boundsPeriod": period("2026-12-09")}}}]}])
# An order that begins the day after another ends goes on with it.
TWO_STEPS = "+[{from: \"1\", dose: \"20 syringe units\"}, {from: \"6\", dose: \"25 syringe units\"}]"
case("p1", TWO_STEPS, bounded("2026-12-08", follow("2026-12-09")))
case("p1", "+{from: \"6\", dose: \"25 syringe units\"}, {from: \"8\", dose: \"30 syringe units\"}]",
     bounded("2026-12-08", follow("2026-12-11", value="30"), follow("2026-12-09", "2026-12-10")))
case("p1", "order-twice", bounded("2026-12-08", follow("2026-12-10")))
case("p1", "order-twice", bounded("2026-12-08", follow("2026-12-08")))
case("p1", "order-twice", bounded("2026-12-08", follow("2026-12-09"), follow("2026-12-09", value="30")))
case("p1", "order-twice", follow("2026-12-09"))
case("p4", "+{from: \"5\", dose: \"187.5 units\"}", dosage(
    lambda one: one.pop("text") and repeat(boundsPeriod=period("2026-12-05"))(one)))

# --- Events.
case("p4", "+visits: [{event: \"retrieval\", day: \"0\", at: \"10:30\",")
case("p4", "+visits: [{event: \"retrieval\", day: \"0\", label:",
     lambda parts: parts["Procedure"][0].update(performedDateTime="2026-12-16T00:00:00Z"))
case("p1", "event-unconfirmed", lambda parts: parts["Appointment"][0].update(status="proposed"))
case("p1", "event-unconfirmed", lambda parts: parts["Procedure"][0].update(status="on-hold"))
case("p1", "unknown-code", lambda parts: parts["Appointment"][0].update(serviceType=[concept("visits", "TEA")]))
case("p1", "event-twice", lambda parts: [{**copy.deepcopy(parts["Appointment"][0]), "id": "second"}])
case("p2", "unknown-event", lambda parts: [{
    "resourceType": "Procedure", "id": "taken", "status": "preparation", "code": concept("procedures", "TAKE"),
    "subject": parts["MedicationRequest"][0]["subject"], "performedDateTime": "2026-12-16T10:30:00Z"}])
case("p1", "bad-time", lambda parts: parts["Procedure"][0].update(performedDateTime="2026-12-16T10:30:20Z"))
case("p1", "midnight-doubtful", lambda parts: parts["Procedure"][0].update(performedDateTime="2026-12-16T00:00:00Z"))
case("p1", "bad-date", lambda parts: parts["Procedure"][0].update(performedDateTime="2026-12"))
case("p1", "time-is-differs", lambda parts: parts["Procedure"][0].update(code=concept("procedures", "COME")))
case("p4", "label-missing", lambda parts: [{
    "resourceType": "Procedure", "id": "come", "status": "preparation", "code": concept("procedures", "COME"),
    "subject": parts["MedicationRequest"][0]["subject"], "performedDateTime": "2026-12-17T10:30:00Z"}]
    and parts["Procedure"][0].update(code=concept("procedures", "COME")))
case("p1", "+retrieval: \"2026-12-16 10:30\"",
     lambda parts: parts["Procedure"][0].update(performedDateTime="2026-12-16T05:30:00-05:00"))

# --- The patient.
case("p1", "patient-inactive", lambda parts: parts["Patient"][0].update(active=False))
case("p1", "patient-inactive", lambda parts: parts["Patient"][0].update(deceasedDateTime="2026-12-01"))
case("p1", "name-unclear", lambda parts: parts["Patient"][0].update(name=[{"text": "A"}, {"text": "B"}]))
case("p1", "language-missing", lambda parts: parts["Patient"][0].pop("communication"))
case("p1", "language-missing", lambda parts: parts["Patient"][0].update(communication=[
    {"language": {"coding": [{"system": "urn:ietf:bcp:47", "code": code}]}, "preferred": True} for code in ("en", "es")]))
case("p1", "unknown-code", lambda parts: parts["Patient"][0].update(communication=[
    {"language": {"coding": [{"system": "urn:ietf:bcp:47", "code": "tlh"}]}}]))
case("p1", "unknown-code", lambda parts: parts["AllergyIntolerance"][0].update(code=concept("allergies", "dust")))
case("p1", "record-short", lambda parts: parts["Patient"][0]["identifier"][0].update(value="LQ-77"))
case("p1", "record-of-two", lambda parts: [{**copy.deepcopy(parts["Patient"][0]), "id": "another"}])
case("p1", "rows-too-many", lambda parts: [
    {**copy.deepcopy(parts["AllergyIntolerance"][0]), "id": f"many-{n}"} for n in range(500)])

# --- What belongs to nobody: a line, its code, and the codes of a patient that it may be of.
alone = [("reference-unresolved", orders(lambda one: one.update(subject={"reference": "Patient/nobody"}))),
         ("reference-unresolved", orders(lambda one: one.update(subject={"reference": HOME + "Patient/p1"}))),
         ("reference-unresolved", orders(lambda one: one.update(subject={"reference": "#p1"}))),
         ("reference-unresolved", orders(lambda one: one.update(subject={"display": "somebody"})))]
lost = []
for code, change in alone:
    case("p1", "orders-missing", change)
    lost.append((cases[-1][0], "MedicationRequest", code))
case("p1", "record-unseen", lambda parts: parts["Patient"][0]["identifier"].pop(0))
lost += [(cases[-1][0], "Patient", "record-missing"), (cases[-1][0], "MedicationRequest", "reference-unresolved")]
case("p1", "row-astray", lambda parts: ["{\"resourceType\": \"MedicationRequest\", \"subject\": {\"reference\": \"" +
                                        parts["MedicationRequest"][0]["subject"]["reference"] + "\"}, oops}"])
case("p1", "row-astray", lambda parts: ["{\"resourceType\": \"MedicationRequest\", \"status\": \"active\", "
                                        "\"status\": \"draft\", \"subject\": {\"reference\": \"" +
                                        parts["MedicationRequest"][0]["subject"]["reference"] + "\"}}"])

case("p1", "row-astray", lambda parts: parts["Appointment"][0]["participant"].append(
    {"actor": {"reference": "Patient/p1-1"}, "status": "accepted"}))
lost.append((cases[-1][0], "Appointment", "patients-two"))
cases[0] = (cases[0][0], "row-astray", cases[0][2])

if command == "write":
    with open(sys.argv[3], "w", encoding="utf-8") as file:
        for _, _, resources in cases:
            for one in resources:
                file.write((one if isinstance(one, str) else written(one)) + "\n")
elif command == "codes":
    print("\n".join(sorted({expected for _, expected, _ in cases if expected[0] != "+" and expected != "record-unseen"} | {one[2] for one in lost})))
else:
    folder = pathlib.Path(sys.argv[3])
    reasons, rows, row = {}, {}, 0
    with open(folder / "refused.csv", newline="", encoding="utf-8") as file:
        for line in csv.DictReader(file):
            reasons.setdefault(line["record"] or int(line["row"]), set()).add(line["code"])
    for record, expected, resources in cases:
        for one in resources:
            row += 1
            rows.setdefault((record, "" if isinstance(one, str) else one["resourceType"]), row)
        plan = folder / "plans" / (record + ".yaml")
        if expected[0] == "+" and (not plan.exists() or expected[1:] not in plan.read_text()):
            print(record, "lacks", expected[1:], "in", plan.read_text() if plan.exists() else reasons.get(record))
        if expected == "record-unseen":
            continue
        if expected == "record-short":
            record = "LQ-77"
        if expected[0] != "+" and (plan.exists() or reasons.get(record) != {expected}):
            print(record, "should be refused for", expected, "and is for", reasons.get(record))
    for record, kind, code in lost:
        if reasons.get(rows[record, kind]) != {code}:
            print("row", rows[record, kind], "should be refused for", code, "and is for", reasons.get(rows[record, kind]))
    unreadable = sum(codes == {"row-unreadable"} for codes in reasons.values())
    if unreadable != 2:
        print("rows that are no JSON, or have a key twice:", unreadable)
