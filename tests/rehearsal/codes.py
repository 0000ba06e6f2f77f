"""Prints the finding codes of src/, one a line.

A code is the first literal among the arguments of a call that adds a finding; where one of two is chosen, both are codes.
"""
import pathlib
import re

ADDERS = ("findings_add", "add_finding", "refuse", "refuse_value", "refuse_unknown_name", "making_stop", "composer_stop",
          "stop_at", "system_failure", "fail", "refuse_file", "fhir_refuse")
CALL = re.compile(r"\b(?:" + "|".join(ADDERS) + r")\s*\(")
LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')
CODE = re.compile(r"[a-z]+(?:-[a-z0-9]+)*")


def arguments(text, start):
    """What stands between the bracket before `start` and the one that closes it."""
    depth, at = 1, start
    while depth:
        literal = LITERAL.match(text, at)
        if literal:
            at = literal.end()
            continue
        depth += {"(": 1, ")": -1}.get(text[at], 0)
        at += 1
    return text[start:at - 1]


codes = set()
for path in pathlib.Path("src").glob("*/*.[ch]"):
    text = path.read_text()
    for call in CALL.finditer(text):
        given = arguments(text, call.end())
        first = LITERAL.search(given)
        if first is None or not CODE.fullmatch(first[1]):
            continue
        codes.add(first[1])
        other = re.compile(r"\s*:\s*" + LITERAL.pattern).match(given, first.end())
        if other:
            codes.add(other[1])
print("\n".join(sorted(codes)))
