"""A cable in the records of a shop in memory, and what a person does to it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from tests.unit.work.cards.shops import new_shop

from ohmsworth import wiring
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.log import CableState
from ohmsworth.work.builds.writing import Measured, RowDraft, Sending, measure, open_cable
from ohmsworth.work.shop import Shop

TOML = """\
name = "line cable"
serial = "no. 12"
length = "10 m"

[ends.A]
contacts = ["1-3", "shell"]
[ends.B]
contacts = ["1-3"]

[kinds.core]
resistance = "85 mΩ/m"
tolerance = "5 %"

[[wires]]
name = "wire"
from = "A:1-3"
to = "B:1-3"

[[links]]
contacts = ["A:1", "A:shell"]

[meter]
accuracy = "0.1 % + 2 counts"
resolution = "1 mΩ"
"""
#: What a sound cable of this kind reads, as somebody types it.
WIRE = "0.850"


def demo(folder: Path) -> Path:
    """The demonstration's cable, measured."""
    wiring.write_demo_cable(folder)
    return folder


@dataclass
class BuiltShop:
    """A cable in the records."""

    toml: str = TOML
    shop: Shop = field(default_factory=new_shop)
    cable: int = 0
    desk: CableDesk = field(init=False)

    def __post_init__(self) -> None:
        self.desk = CableDesk(self.shop)
        self.cable = open_cable(self.desk, self.toml, "Ada", "the cable")

    @property
    def state(self) -> CableState:
        return self.desk.state(self.cable)

    @property
    def shown(self) -> str:
        """The state on the cable's face."""
        return self.shop.records.card(self.cable).face.state

    def row(
        self, one: str, other: str, resistance: str, unit: str = "Ω", key: str = "", anyway: str = ""
    ) -> Measured:
        """Measure between two contacts."""
        sending = Sending("Ada", key or self.shop.new_key(), anyway)
        return measure(self.desk, self.cable, RowDraft(one, other, resistance, unit), "either", sending)

    def next_row(self, resistance: str = WIRE) -> Measured:
        """Measure what is asked for: a wire as `resistance`, a link as nothing, groups as open."""
        after = self.desk.leading(self.state).following
        assert after is not None
        shown = {"wire": resistance, "link": "0.001"}.get(after.purpose, "open")
        return self.row(" ".join(after.one), " ".join(after.other), shown)

    def whole(self) -> None:
        """Measure all that is asked for at a sound cable."""
        while self.desk.leading(self.state).following is not None:
            self.next_row()
