"""Write the published JSON schemas from the records of each answer, so that the two cannot drift apart."""

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from ohmsworth.report import (
    answer,
    cable_answer,
    fitness,
    lot_answer,
    meaning,
    plan_answer,
    takes_answer,
    tones_answer,
)
from ohmsworth.report.capacitance import answer as capacitance_answer
from ohmsworth.report.care import ageing_answer, care_answer, known_answer
from ohmsworth.report.papers import certificate, lot_certificate, service_card, verification
from ohmsworth.report.workshop import answer as workshop_answer

FOLDER = Path("src/ohmsworth/report")
SCHEMA = FOLDER / "answer.schema.json"


@dataclass(frozen=True)
class Published:
    """A record that a command prints with ``--json``, and the name of its format."""

    record: Any
    format: str


#: Name of the schema -> what it is made of; ``ohmsworth schema NAME`` prints it.
PUBLISHED = {
    "ageing": Published(ageing_answer.AgeingAnswer, ageing_answer.FORMAT),
    "answer": Published(answer.Answer, answer.FORMAT),
    "cable": Published(cable_answer.CableAnswer, cable_answer.FORMAT),
    "capacitance": Published(capacitance_answer.CapacitanceAnswer, capacitance_answer.FORMAT),
    "care": Published(care_answer.CareAnswer, care_answer.FORMAT),
    "certify": Published(certificate.Certificate, certificate.FORMAT),
    "certify-lot": Published(lot_certificate.LotCertificate, lot_certificate.FORMAT),
    "fitness": Published(fitness.FitnessAnswer, fitness.FORMAT),
    "known": Published(known_answer.KnownAnswer, known_answer.FORMAT),
    "lot": Published(lot_answer.LotAnswer, lot_answer.FORMAT),
    "meaning": Published(meaning.MeaningAnswer, meaning.FORMAT),
    "plan": Published(plan_answer.PlanAnswer, plan_answer.FORMAT),
    "service-card": Published(service_card.SpecimenService, service_card.SPECIMEN_FORMAT),
    "service-card-cable": Published(service_card.CableService, service_card.CABLE_FORMAT),
    "takes": Published(takes_answer.TakesAnswer, takes_answer.FORMAT),
    "tones": Published(tones_answer.TonesAnswer, tones_answer.FORMAT),
    "verify": Published(verification.VerificationAnswer, verification.FORMAT),
    "workshop": Published(workshop_answer.WorkshopAnswer, workshop_answer.FORMAT),
}


def schema_path(name: str) -> Path:
    """Where the schema stands."""
    return FOLDER / f"{name}.schema.json"


def schema_text(name: str = "answer") -> str:
    """The schema as it is published."""
    published = PUBLISHED[name]
    schema = TypeAdapter(published.record).json_schema(mode="serialization")
    for record in (schema, *schema.get("$defs", {}).values()):
        record["required"] = list(record["properties"])  # every key is always written, null where not known
        record["additionalProperties"] = True  # later versions of format 1 may add keys
    schema["properties"]["format"] = {"const": published.format}
    whole = {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": published.format}
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    if "--check" in sys.argv:
        sys.exit(any(schema_path(name).read_text("utf-8") != schema_text(name) for name in PUBLISHED))
    for name in PUBLISHED:
        schema_path(name).write_text(schema_text(name), "utf-8")
