"""Holds resources against the R4 JSON schema, each against its own type's definition; prints those that do not fit.

    python3 tests/batch/fhir-valid.py SCHEMA FILE...     a Bundle's .json, or .ndjson
"""
import json
import pathlib
import sys

import jsonschema

schema = json.loads(pathlib.Path(sys.argv[1]).read_text())
validators = {}


def faults(resource):
    kind = resource["resourceType"]
    if kind not in validators:
        validators[kind] = jsonschema.Draft6Validator({"$ref": f"#/definitions/{kind}",
                                                       "definitions": schema["definitions"]})
    return [error.message for error in validators[kind].iter_errors(resource)]


for name in sys.argv[2:]:
    text = pathlib.Path(name).read_text()
    if name.endswith(".json"):
        bundle = json.loads(text)
        resources = [entry["resource"] for entry in bundle["entry"]]
        shell = {**bundle, "entry": [{key: one for key, one in entry.items() if key != "resource"}
                                     for entry in bundle["entry"]]}
        resources.append(shell)
    else:
        resources = [json.loads(line) for line in text.splitlines()]
    for row, resource in enumerate(resources, 1):
        for fault in faults(resource):
            print(f"{name}:{row}: {fault[:200]}")
