"""What stands in the records of the shop that measured the hall: its cards, and a study that is being read."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ohmsworth.adapters.simulated.hall import FRESH, STAGE
from ohmsworth.work.fill_shop import InventedCard, InventedShop
from ohmsworth.work.study_form import MeterForm, StudyForm, UseForm

#: Who wrote everything, and the card of the job that it was for.
OWNER, JOB = "A. Person", "job"
_SEED = 21
#: What the study that is being read finds: ohm by condition; then the current, the scatter and the offset.
_PATCH = {"worn": 4.1e-3, "new": 2.3e-3}
_AMPERES, _SCATTER, _OFFSET = 0.1, 0.02, 2e-6


def invented_shop() -> InventedShop:
    """The shop's cards and its open study."""
    return InventedShop(OWNER, _cards(), JOB, _OPEN, _shows, 10)


def _shows(condition: str, polarity: str, number: int) -> Mapping[str, tuple[str, str]]:
    """What the meters show, the same for the same number."""
    ohm = _PATCH[condition] * (1 + _SCATTER * np.random.default_rng(_SEED + number // 2).standard_normal())
    sign = -1 if polarity == "-" else 1
    volts = sign * ohm * _AMPERES + _OFFSET
    return {"voltage": (f"{volts * 1e3:.4f}", "mV"), "current": (f"{_AMPERES * 1e3 + 0.02:.2f}", "mA")}


_OPEN = StudyForm(
    question="Are the worn patch plugs still good enough for line level?",
    conditions=("new", "worn"),
    limit="5 mΩ",
    limit_source="the shop's own limit for plugs in use",
    uses=(UseForm("balanced line"),),
    voltmeter=MeterForm("0.03 % + 5 counts", "0.1 µV"),
    ammeter=MeterForm("0.2 % + 3 counts", "10 µA"),
    open_circuit_voltage="20 mV",
    specimens="3",
    matings="2",
    seed="4",
)


def _cards() -> tuple[InventedCard, ...]:
    return (
        InventedCard("owner", "person", {"name": OWNER, "initials": "AP"}),
        InventedCard("limit", "limit", {
            "name": "stage connector", "resistance": "3 mΩ", "source": "the connector's datasheet", "purpose": "a mated pair",
        }),
        InventedCard("customer", "customer", {"name": "the concert hall", "language": "English"}),
        InventedCard(JOB, "job", {
            "number": "26-014", "title": "Dark stage connectors", "promised_by": "2026-03-20", "state": "in work",
            "promised": "Say whether the connectors need cleaning, and clean them if so.",
        }, {"customer": "customer"}),
        InventedCard("voltmeter", "meter", {
            "name": "voltmeter 1", "measures": "voltage", "serial": "V-001",
            "ranges": [{"up_to": "20 mV", "accuracy": "0.03 % + 5 counts", "resolution": "0.1 µV"}],
            "on": "2026-01-12", "due": "2027-01-12", "certificate": "K-101",
        }),
        InventedCard("ammeter", "meter", {
            "name": "ammeter 1", "measures": "current", "serial": "A-001",
            "ranges": [{"up_to": "200 mA", "accuracy": "0.2 % + 3 counts", "resolution": "10 µA"}],
            "on": "2026-01-12", "due": "2027-01-12", "certificate": "K-102",
        }),
        InventedCard("shunt", "check standard", {
            "name": "1 mΩ shunt", "value": "1.0023 mΩ", "uncertainty": "0.4 µΩ", "on": "2025-11-03", "due": "2027-11-03",
        }),
        *(
            InventedCard(name, "specimen", {
                "serial": name, "what": "stage connector, three pins", "plating": "silver", "received": "2026-03-02",
            }, {"limit": "limit", "customer": "customer", "job": JOB})
            for name in (*STAGE, *FRESH)
        ),
    )  # fmt: skip
