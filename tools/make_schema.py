"""Write the published JSON schema from the answer's records, so that the two cannot drift apart."""

import json
import sys
from pathlib import Path

from pydantic import TypeAdapter

from ohmsworth.report.answer import FORMAT, Answer

SCHEMA = Path("src/ohmsworth/report/answer.schema.json")


def schema_text() -> str:
    """The schema as it is published."""
    schema = TypeAdapter(Answer).json_schema(mode="serialization")
    for record in (schema, *schema["$defs"].values()):
        record["required"] = list(record["properties"])  # every key is always written, null where not known
        record["additionalProperties"] = True  # later versions of format 1 may add keys
    schema["properties"]["format"] = {"const": FORMAT}
    whole = {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": FORMAT}
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    if "--check" in sys.argv:
        sys.exit(SCHEMA.read_text("utf-8") != schema_text())
    SCHEMA.write_text(schema_text(), "utf-8")
