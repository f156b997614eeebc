"""Logs of studies for the tests: readings as they are typed, and what is done to them afterwards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from ohmsworth.readings.entry import Entry, Sign, Typed
from ohmsworth.work.records import Line
from ohmsworth.work.study_log import QUESTION, TAKEN, StudyState, fold

NINE = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
QUESTION_TEXT = """\
# our own remark
question = "Does it matter?"  # asked by the hall
reference = "new"

[bench.voltmeter]
percent_of_reading = 0.05
counts = 5
resolution = "0.1 µV"

[bench.ammeter]
percent_of_reading = 0.2
counts = 3
resolution = "10 µA"
"""


@dataclass
class Log:
    """A log under construction."""

    lines: list[Line] = field(default_factory=list)

    def add(self, kind: str, **said: Any) -> int:
        """Add a line, and return its number."""
        number = len(self.lines) + 1
        fields = {
            "fields": {},
            "about": None,
            "reason": "",
            "entry": None,
            "specimen": None,
            "has_content": False,
        }
        at = NINE + timedelta(seconds=number)
        self.lines.append(
            Line(number=number, key=f"key {number}", kind=kind, by="Ann", at=at, **{**fields, **said})
        )
        return number

    def ask(self, toml: str = QUESTION_TEXT) -> int:
        return self.add(QUESTION, fields={"toml": toml})

    def take(self, entry: Entry, reason: str = "") -> int:
        return self.add(TAKEN, entry=entry, reason=reason)

    @property
    def state(self) -> StudyState:
        return fold(self.lines)


def volts(
    specimen: str,
    condition: str,
    voltage: str,
    current: str = "100.02 mA",
    polarity: Sign = "+",
    **more: Any,
) -> Entry:
    """A reading of voltage and current, each with its unit."""
    return Entry(
        specimen,
        condition,
        polarity=polarity,
        voltage=typed(voltage, "voltage"),
        current=typed(current, "current"),
        **more,
    )


def typed(text: str, dimension: str) -> Typed:
    number, _, unit = text.partition(" ")
    return Typed(number, unit, dimension)


def small_study(moments: Sequence[datetime | None] = ()) -> Log:
    """Two conditions of three specimens, forward and reversed."""
    log = Log()
    log.ask()
    figures = iter(range(1, 100))
    for condition, base in (("new", 0.2513), ("old", 0.4713)):
        for specimen in (f"{condition} {i}" for i in range(1, 4)):
            for sign in ("+", "-"):
                n = next(figures)
                number = f"{'-' if sign == '-' else ''}{base + n * 0.0017:.4f} mV"
                amps = f"{'-' if sign == '-' else ''}100.{n:02d} mA"
                time = NINE + timedelta(minutes=n)
                log.take(
                    volts(specimen, condition, number, amps, sign, mating="1", time=time, operator="Ann")
                )
    return log
