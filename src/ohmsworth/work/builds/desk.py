"""The cables of the records laid out for use: what their logs say now, and what is told of them."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from ohmsworth.report.cable_answer import CableAnswer
from ohmsworth.work.builds.face import face_by
from ohmsworth.work.builds.log import CableState, fold
from ohmsworth.work.builds.teller import Teller
from ohmsworth.work.records import NoSuchCard
from ohmsworth.work.shop import Shop

#: Logs held ready: more cables than anybody measures at once.
MOST = 50


class CableDesk:
    """Reads of a log what was added since it was last looked at; safe between threads."""

    def __init__(self, shop: Shop) -> None:
        self.records = shop.records
        self.teller = Teller(shop.cables)
        self.face = face_by(self.teller)
        self._states: OrderedDict[int, CableState] = OrderedDict()
        self._lock = Lock()

    def state(self, cable: int) -> CableState:
        """What the log of a cable says now; raises NoSuchCard, also for a card of another kind."""
        with self._lock:
            before = self._states.get(cable)
        if before is None and (kind := self.records.card(cable).kind) != "cable":
            raise NoSuchCard(f"Card {cable} is a {kind}, not a built cable.")
        lines = self.records.lines(cable, before.last if before else 0)
        state = fold(lines, before) if lines or before is None else before
        with self._lock:
            self._states[cable] = state
            self._states.move_to_end(cable)
            while len(self._states) > MOST:
                self._states.popitem(last=False)
        return state

    def answer(self, state: CableState) -> CableAnswer:
        """What is told of it; raises InputRefused with every fault of its folder."""
        return self.teller.answer(state.toml, state.written)

    def leading(self, state: CableState) -> CableAnswer:
        """The same, with the first measurement to make where there is none yet; raises InputRefused."""
        return self.answer(state) if state.counted else self.teller.leading(state.toml)
