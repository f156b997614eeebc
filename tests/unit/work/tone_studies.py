"""Studies of takes in records on SQLite, of contacts that do not exist and recordings that nobody made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files import read_tones_text
from ohmsworth.adapters.simulated.sound import (
    Flaws,
    Input,
    Interface,
    TrueContact,
    TrueShunt,
    Truth,
    simulate,
)
from ohmsworth.adapters.simulated.sound import Take as Connected
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.wishes import plan_for
from ohmsworth.work.keep_standard import KeptStandard, keep_standard
from ohmsworth.work.keep_take import KeptTake, NewTake, keep_take
from ohmsworth.work.records import Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import open_study
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.study_tones import plan_tones
from ohmsworth.work.tone_files import Kind, Series
from ohmsworth.work.uploads import Upload

BY = "Ada"
QUESTION = """\
question = "Do dark contacts matter?"
[limit]
resistance = "9 mΩ"
source = "invented"
[check_standard]
name = "bar A"
value = "10 mΩ"
standard_uncertainty = "20 µΩ"
"""
#: Few tones and a short time: a recording of five seconds.
TONES = """\
contact = "8 mΩ"
current = "30 mA"
[tones]
number = 4
time = "1 s"
period = "0.25 s"
level_check = "0.5 s"
[output]
full_scale = "1 V"
[inputs]
crosstalk = "-120 dB"
full_scale = "20 mV"
[circuit]
series = "20 Ω"
[circuit.shunt]
resistance = "100 mΩ"
tolerance = "±0.5 %"
[load]
resistance = "10 mΩ"
tolerance = "±0.5 %"
"""
INTERFACE = Interface((Input(0.02, 1.02, noise=3e-7), Input(0.02, 0.97, noise=3e-7)), start=9000.3, after=0.2)
SHUNT = TrueShunt(0.1003)
CONTACT = TrueContact(8.1e-3, 20e-9)
#: What the leads leave, in every take of a study of which standards are kept.
LEADS = TrueContact(0.3e-3, 5e-9)
_WAYS: dict[Kind, Connected] = {"straight": "straight", "swapped": "swapped"}
_TRUE = {"short": LEADS, "load": TrueContact(10.3e-3, 5e-9)}


@lru_cache(maxsize=64)
def sound(contact: TrueContact, way: Connected, seed: int, flaws: Flaws | None = None) -> Recording:
    """A recording of the plan of `TONES`."""
    wishes, _, _ = read_tones_text(TONES)
    return simulate(plan_for(wishes), wishes.circuit, Truth(contact, SHUNT), INTERFACE, seed, way, flaws)


@dataclass
class ToneStudy:
    """A study with tones, and what a person does to it."""

    records: Records
    folder: Path
    question: str = QUESTION
    key: str = "study"
    tones: str = TONES
    now: datetime = field(default_factory=lambda: datetime(2026, 3, 2, 9, 0, tzinfo=UTC))

    def __post_init__(self) -> None:
        self.shop: Shop = replace(wiring.shop(self.records), clock=lambda: self.now)
        self.desk = Desk(self.shop)
        self.study = open_study(self.shop, self.question, (), BY, self.key)
        if self.tones:
            plan_tones(self.shop, self.desk, self.study, self.state, self.tones, BY, f"{self.key}.tones")

    @property
    def state(self) -> StudyState:
        return self.desk.state(self.study)

    def sent(
        self,
        contact: TrueContact = CONTACT,
        seed: int = 1,
        kinds: Iterable[Kind] = ("straight", "swapped"),
        flaws: Flaws | None = None,
    ) -> dict[Kind, list[Upload]]:
        """Recordings as they come with a page: under names of their own, lying somewhere else."""
        found: dict[Kind, list[Upload]] = {}
        for kind in kinds:
            path = self.folder / f"part {abs(hash((contact, seed, kind, flaws)))}.wav"
            if not path.exists():
                write_recording(path, sound(contact, _WAYS[kind], seed, flaws))
            found[kind] = [Upload(f"{kind}.wav", path)]
        return found

    def keep(
        self, specimen: str = "D1", condition: str = "dark", key: str = "take", **sent: object
    ) -> KeptTake:
        """Keep takes of a contact."""
        uploads = self.sent(**sent)  # type: ignore[arg-type]
        take = NewTake(specimen, condition, mating="1")
        return keep_take(self.shop, self.desk, self.study, self.state, take, uploads, BY, f"{self.key}.{key}")

    def standard(self, series: Series, key: str = "", seed: int = 1) -> KeptStandard:
        """Keep takes of a standard."""
        uploads = self.sent(_TRUE[series], seed)
        line = f"{self.key}.{key or series}"
        return keep_standard(self.shop, self.desk, self.study, self.state, series, uploads, BY, line)
