"""The JSON Schema of the design document, against jsonschema: valid itself, and of one mind with our reader.

Some things a schema of one document can't see: names that refer to something, seats, sizes against each other, the unit
that a bare number takes. There the schema may accept what the reader refuses, never the other way round.
"""

import json
import math
import tomllib

from jsonschema import Draft202012Validator
from report import ROOT, data, designs, program

# What the reader expects where only it can tell; each is the beginning of one of its sentences.
ONLY_THE_READER = ("the name of a", "“top” or “side”")


def finite(value):
    """JSON has no word for infinity or for what is no number."""
    if isinstance(value, dict):
        return all(map(finite, value.values()))
    if isinstance(value, list):
        return all(map(finite, value))
    return not isinstance(value, float) or math.isfinite(value)


def as_json(text):
    """A TOML document as the schema sees it; None for what JSON can't hold or TOML can't read."""
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return None
    return json.loads(json.dumps(document, default=lambda moment: moment.isoformat())) if finite(document) else None


def compare(report):
    schema = json.loads(program("schema"))
    Draft202012Validator.check_schema(schema)
    report.true("the schema is valid, 2020-12", "schema", schema["$schema"].endswith("2020-12/schema"))
    validator = Draft202012Validator(schema)
    for folder in designs():
        text = (folder / "cake.toml").read_text()
        first = next(validator.iter_errors(as_json(text)), None)
        report.true("a design is accepted", folder.name, first is None, first and first.message[:200])
    for path in sorted((ROOT / "tests" / "promises" / "bad").glob("*.toml")):
        compare_bad(report, validator, path)
    for document in data("documents", "changed.json"):
        compare_changed(report, validator, document)


def compare_bad(report, validator, path):
    """The second line of a bad design says whether a schema can see its fault."""
    text = path.read_text()
    document, sees = as_json(text), "# schema: refuses" in text.splitlines()[1]
    if document is None:
        report.true("a bad design that JSON can't hold", path.stem, True)
        return
    refused = not validator.is_valid(document)
    report.true("a bad design is judged as it says", path.stem, refused == sees, "refused" if refused else "accepted")


def compare_changed(report, validator, document):
    value = as_json(document["text"])
    if value is None:
        report.true("a changed document that JSON can't hold is refused", document["name"], not document["accepted"])
        return
    valid = validator.is_valid(value)
    name = document["name"]
    if valid == document["accepted"]:
        report.true(f"a changed document is {'accepted' if valid else 'refused'} by both", name, True)
        return
    reasons = [problem["expected"] for problem in document["problems"]]
    excused = valid and all(reason.startswith(ONLY_THE_READER) for reason in reasons)
    first = next(validator.iter_errors(value), None)
    report.true("only the reader can refuse it", name, excused,
                f"the schema {'accepts' if valid else 'refuses'} it: {first.message[:150] if first else ''}; reader: {document['problems'][:2]}")
