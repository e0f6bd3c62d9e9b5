"""Judges documents by a JSON Schema with an independent validator (Debian: python3-jsonschema).

validate.py SCHEMA LIST     LIST holds one document in each line. Prints one character for each: 1 valid, 0 not.
                            The schema itself is held against the metaschema of its draft first.
Exit 77 when the validator is not installed.
"""
import json
import sys

try:
    import jsonschema
except ImportError:
    sys.exit(77)

with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
with open(sys.argv[2], encoding="utf-8") as file:
    print("".join("1" if validator.is_valid(json.loads(line)) else "0" for line in file))
