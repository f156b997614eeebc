"""A reading or a sequence of readings under way: in a thread of its own, stopped at any time, each kept as soon as it is read."""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused, OhmsworthError
from ohmsworth.readings.entry import Entry, Sign
from ohmsworth.work.current_source import CurrentSource
from ohmsworth.work.instruments import InstrumentFault, MayStillBeOn
from ohmsworth.work.one_at_a_time import OneAtATime
from ohmsworth.work.read_meters import Meters, StillOn, Turn, by_source, read_signs

if TYPE_CHECKING:
    # What judges an entry is heavy, and the first page does not wait for it.
    from ohmsworth.work.take_entry import Taken

FLOWS: dict[Sign, str] = {"+": "current forward", "-": "current reversed", "0": "current off", "": ""}
#: Seconds that somebody has for turning the leads.
LONGEST_TURN = 600.0
#: Judges an entry under a key, read by these meters, and keeps it or asks about it.
Keeper = Callable[[Entry, str, Mapping[str, str]], "Taken"]


class Stopped(Exception):
    """The person stopped it, or did not turn the leads in time."""


class _Asked(Exception):
    """A reading is doubtful, and is not kept until somebody says why."""


@dataclass(frozen=True, slots=True)
class Plan:
    """What is to be read.

    Parameters
    ----------
    key
        Of the first reading; the run is called so too.
    study, about
        Whose reading, and what is measured, by whom.
    signs
        Polarities in their order.
    open_meters
        Opens the meters and names them by quantity; called when the run has begun.
    source, level, settle
        The source (None where a person sets the current), ampere, and seconds from turning to reading.
    stays_on
        Whether the current was on before, and stays so.
    """

    key: str
    study: int
    about: Entry
    signs: tuple[Sign, ...]
    open_meters: Callable[[], tuple[Meters, dict[str, str]]]
    source: Callable[[], CurrentSource] | None = None
    level: float = 0.0
    settle: float = 0.0
    stays_on: bool = False


@dataclass(frozen=True, slots=True)
class RunState:
    """What a page shows.

    Parameters
    ----------
    key, study
        Of the plan.
    version
        Counts what changed.
    words
        What is being done.
    kept
        Readings that were kept.
    turn
        The polarity to which a person is to turn the current; "" while nobody is asked.
    over
        Whether it has ended.
    why
        Why it ended before its end; "" where it did not.
    faults
        What was wrong.
    asked
        The reading that is doubtful, under which key, and what was found.
    read_by
        The meters by quantity.
    """

    key: str
    study: int
    version: int = 0
    words: str = ""
    kept: tuple[Taken, ...] = ()
    turn: Sign = ""
    over: bool = False
    why: str = ""
    faults: tuple[Fault, ...] = ()
    asked: tuple[Entry, str, Taken] | None = None
    read_by: Mapping[str, str] = field(default_factory=dict)


class Run:
    """One plan being carried out.

    Parameters
    ----------
    plan
        What is read.
    keep
        Keeps each reading.
    now, new_key
        The time of day, and keys for the readings after the first.
    turned_by_hand
        Told when the person says that the leads are turned.
    """

    def __init__(
        self,
        plan: Plan,
        keep: Keeper,
        now: Callable[[], datetime],
        new_key: Callable[[], str],
        turned_by_hand: Turn,
    ) -> None:
        self.plan = plan
        self._keep, self._now, self._new_key, self._hand = keep, now, new_key, turned_by_hand
        self._changed = threading.Condition()
        self._state = RunState(plan.key, plan.study, words="Asking the meters …")
        self._stopped = False
        self._source: CurrentSource | None = None
        self._first = True
        self._thread = threading.Thread(target=self._carry_out, name="meter reading", daemon=True)

    @property
    def key(self) -> str:
        """By which the page that began it knows it."""
        return self.plan.key

    @property
    def over(self) -> bool:
        """Whether nothing is read any more."""
        return self.state().over

    @property
    def busy(self) -> Fault:
        """What is told to somebody who wants another run meanwhile."""
        mend = "Wait until it has ended, or stop it there."
        return Fault("meters", f"a reading for study {self.plan.study}", "meters that nobody reads", mend)

    def start(self) -> None:
        """Begin."""
        self._thread.start()

    def state(self) -> RunState:
        """What a page shows."""
        with self._changed:
            return self._state

    def wait(self, seconds: float) -> RunState:
        """What a page shows when it has ended or asks for something, or after `seconds`."""
        end = time.monotonic() + seconds
        with self._changed:
            while not (self._state.over or self._state.turn) and (left := end - time.monotonic()) > 0:
                self._changed.wait(left)
            return self._state

    def stop(self) -> None:
        """End it now and switch the current off, from any thread; what was kept stays kept. Raises MayStillBeOn."""
        with self._changed:
            self._stopped = True
            self._changed.notify_all()
        source = self._source
        if source is not None:
            source.switch_off("stopped by the person")

    def join(self, seconds: float) -> None:
        """Wait for its end."""
        self._thread.join(seconds)

    def turned(self) -> None:
        """The person says that the current is turned."""
        with self._changed:
            sign = self._state.turn
            if not sign:
                return
            self._hand(sign)
            self._say(turn="", words="Turned.")

    def _say(self, **news: object) -> None:
        with self._changed:
            self._state = replace(self._state, version=self._state.version + 1, **news)  # type: ignore[arg-type]
            self._changed.notify_all()

    def _carry_out(self) -> None:
        why = ""
        faults: tuple[Fault, ...] = ()
        try:
            self._read()
        except _Asked:
            why = "Asked about this reading; the rest was not read."
        except Stopped as stopped:
            why = str(stopped)
        except MayStillBeOn as error:
            why, faults = error.fault.mend, (error.fault,)
        except InstrumentFault as error:
            why, faults = ("Stopped.", ()) if self._stopped else ("", (error.fault,))
        except InputRefused as refused:
            faults = refused.faults
        except OhmsworthError as error:
            why = str(error)
        except Exception as error:  # nobody would see it in this thread; the page says it
            why = f"The program itself failed ({type(error).__name__}). What was kept stays kept."
        self._say(over=True, turn="", words="", why=why, faults=faults)

    def _read(self) -> None:
        plan = self.plan
        meters, read_by = plan.open_meters()
        self._say(read_by=read_by)
        turn: Turn = self._by_hand
        still_on: StillOn | None = None
        if plan.source is not None:
            self._source = plan.source()
            turn, still_on = by_source(self._source, plan.level, self._by_hand)
        try:
            read_signs(
                meters,
                plan.about,
                self._keep_one,
                plan.signs,
                turn=self._told(turn),
                sleep=self._pause,
                now=self._now,
                settle=plan.settle,
                still_on=still_on,
            )
        except BaseException:
            self._off("the reading was broken off")
            raise
        if not plan.stays_on:
            self._off("the readings are complete")

    def _off(self, why: str) -> None:
        if self._source is not None:
            self._source.switch_off(why)

    def _told(self, turn: Turn) -> Turn:
        def turning(sign: Sign) -> None:
            self._pause(0.0)
            number = len(self.state().kept) + 1
            of = f"Reading {number} of {len(self.plan.signs)}: " if len(self.plan.signs) > 1 else ""
            self._say(words=f"{of}{FLOWS[sign] or 'reading'} …")
            turn(sign)
            self._first = False

        return turning

    def _by_hand(self, sign: Sign) -> None:
        """Ask the person to turn the current; what the step asks for is laid already when it begins."""
        if self._first:
            return
        self._say(turn=sign)
        end = time.monotonic() + LONGEST_TURN
        with self._changed:
            while self._state.turn and not self._stopped:
                left = end - time.monotonic()
                if left <= 0:
                    raise Stopped("Nobody turned the current; what was read is kept.")
                self._changed.wait(left)
        self._pause(0.0)

    def _pause(self, seconds: float) -> None:
        end = time.monotonic() + seconds
        with self._changed:
            while not self._stopped and (left := end - time.monotonic()) > 0:
                self._changed.wait(left)
            if self._stopped:
                raise Stopped("Stopped. What was read is kept.")

    def _keep_one(self, entry: Entry) -> None:
        state = self.state()
        key = self._new_key() if state.kept else self.plan.key
        taken = self._keep(entry, key, state.read_by)
        if taken.number is None:
            self._say(asked=(entry, key, taken))
            raise _Asked
        self._say(kept=(*state.kept, taken))


class Runs(OneAtATime[Run]):
    """The one run that a bench has at a time, and the last one that it had; safe between threads."""

    def under_way(self, study: int) -> Run | None:
        """The run of a study that has not ended."""
        run = self.last()
        return run if run is not None and run.plan.study == study and not run.state().over else None

    def provenance(self, entry: Entry, key: str) -> Mapping[str, str]:
        """The meters of a doubtful reading that is kept after all, with the digits that they sent; empty for anything else."""
        run = self.last()
        asked = run.state().asked if run is not None else None
        if run is None or asked is None or asked[1] != key or not _same_digits(asked[0], entry):
            return {}
        return run.state().read_by

    def stop(self) -> None:
        """Stop what is under way, when the bench ends."""
        run = self.last()
        if run is not None and not run.state().over:
            with contextlib.suppress(MayStillBeOn):  # told by what switches all off
                run.stop()
            run.join(5.0)


def _same_digits(one: Entry, other: Entry) -> bool:
    return (one.voltage, one.current, one.resistance) == (other.voltage, other.current, other.resistance)
