"""A study on an invented bench, in memory."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from tests.unit.work.cards.shops import new_shop

from ohmsworth.readings.entry import Entry
from ohmsworth.work.drafts import Draft, read_draft
from ohmsworth.work.make_study import make_study
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_form import StudyForm
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_entry import Sending, Taken, take_entry

FORM = StudyForm(
    "Do the tarnished contacts matter?",
    ("new", "tarnished"),
    limit="4 mΩ",
    limit_source="datasheet",
    specimens="3",
    matings="2",
)
#: Millivolt at 100 mA.
VOLTS = {"new": 0.25, "tarnished": 0.61, "shunt A": 1.0}


@dataclass
class BenchShop:
    """A study in the records, and what a person does to it."""

    shop: Shop = field(default_factory=new_shop)
    form: StudyForm = FORM
    study: int = 0
    desk: Desk = field(init=False)

    def __post_init__(self) -> None:
        self.desk = Desk(self.shop)
        self.study = make_study(self.shop, self.form, "Ada", "the study")

    @property
    def state(self) -> StudyState:
        return self.desk.state(self.study)

    def entry(self, step: int, factor: float = 1.0, **more: Any) -> Entry:
        """The reading of a step of the sheet."""
        row = self.state.sheet[step - 1]
        volts = f"{VOLTS[row.condition] * factor * (1 + 0.001 * step):.4f}"
        labels = {"specimen": row.specimen, "condition": row.condition, "mating": str(row.mating)}
        draft = Draft(
            labels,
            row.polarity,
            {"voltage": (volts, "mV"), "current": ("100.02", "mA")},
            step=step,
            **more,
        )
        return read_draft(draft, "point", self.shop.clock()).entry

    def take(self, step: int, factor: float = 1.0, **sending: Any) -> Taken:
        """Take the reading of a step."""
        sent = Sending("Ada", sending.pop("key", f"reading {step} {factor}"), **sending)
        return take_entry(self.shop, self.desk, self.study, self.state, self.entry(step, factor), sent)
