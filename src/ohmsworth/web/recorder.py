"""What a bench records just now: the contact at hand, its takes so far, and the sound under way."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from shutil import rmtree
from typing import cast

from fastapi import Request

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.tones_answer import RecordingAnswer
from ohmsworth.web.bench_form import BenchForm
from ohmsworth.work.just_recorded import TakeTold
from ohmsworth.work.lease import Lease
from ohmsworth.work.level_check import LevelVerdict, OnLevel
from ohmsworth.work.record_take import (
    Bench,
    RecordingPorts,
    all_takes,
    check_level,
    record_take,
)
from ohmsworth.work.sound_run import LEASE_SECONDS, SoundRun, SoundRuns, SoundState
from ohmsworth.work.tone_files import STEMS, Kind

LEVEL = "level check"


def kind_of(take: RecordingAnswer) -> Kind:
    """How the contact is connected in a take."""
    return STEMS[take.file.removesuffix(".wav")][1]


@dataclass(frozen=True, slots=True)
class AtHand:
    """The contact that is being recorded.

    Parameters
    ----------
    key
        Of the line that will keep it.
    study
        Whose.
    form
        What is connected.
    bench
        The folder in which its recordings wait, and what they are made with.
    told
        What came of the takes that were recorded; one that is recorded again takes its own place.
    """

    key: str
    study: int
    form: BenchForm
    bench: Bench
    told: dict[Kind, TakeTold] = field(default_factory=dict)

    @property
    def takes(self) -> tuple[RecordingAnswer, ...]:
        """All that are asked for, in their order."""
        return all_takes(self.bench.loaded)

    @property
    def next(self) -> RecordingAnswer | None:
        """The first that is not recorded yet."""
        return next((one for one in self.takes if kind_of(one) not in self.told), None)

    def recorded(self) -> Mapping[Kind, Path]:
        """The recordings so far."""
        return {kind_of(one): self.bench.folder / one.file for one in self.takes if kind_of(one) in self.told}


class Recorder:
    """The one contact that a bench records at a time; safe between threads.

    Parameters
    ----------
    ports
        Gives what plays and records; None for a bench without.
    lease_seconds
        How long a sound goes on without its page.
    """

    def __init__(
        self, ports: Callable[[], RecordingPorts] | None, lease_seconds: float = LEASE_SECONDS
    ) -> None:
        self._make_ports, self._lease_seconds = ports, lease_seconds
        self._lock = threading.Lock()
        self._at_hand: AtHand | None = None
        self.runs = SoundRuns()

    def ports(self) -> RecordingPorts:
        """What plays and records; raises InputRefused."""
        if self._make_ports is None:
            mend = (
                "Record with any other program and send the files, or start the bench with 'ohmsworth bench'."
            )
            found = "a bench that was started without it"
            raise InputRefused((Fault("playing from here", found, "one that plays and records", mend),))
        return self._make_ports()

    def at_hand(self) -> AtHand | None:
        """The contact that is being recorded."""
        return self._at_hand

    def begin(self, contact: AtHand) -> None:
        """Record `contact` from now on.

        Raises
        ------
        InputRefused
            While another one waits with recordings that are not kept yet.
        """
        with self._lock:
            other = self._at_hand
            if other is not None and other.key == contact.key:
                return
            if other is not None and (other.told or self._sounds()):
                mend = f"Keep its takes, or give it up, on the page of study {other.study}."
                found = f"'{other.form.specimen}' of study {other.study}, which is being recorded"
                raise InputRefused((Fault("audio interface", found, "no other contact", mend),))
            self._drop()
            self._at_hand = contact

    def play(self, key: str, take: RecordingAnswer, level_only: bool) -> SoundRun:
        """Play and record the level check or `take` of the contact at hand, under `key`.

        Raises
        ------
        InputRefused
            Where no contact is at hand, or something sounds already.
        """
        contact = self._at_hand
        if contact is None:
            mend = "Say which contact it is, and tick the cautions."
            raise InputRefused((Fault("audio interface", "no contact", "one to be recorded", mend),))
        bench, ports = contact.bench, self.ports()

        def level(on_level: OnLevel) -> LevelVerdict:
            return check_level(ports, bench, take, on_level)

        def record(on_level: OnLevel) -> TakeTold:
            told = record_take(ports, bench, take, True, on_level)
            contact.told[kind_of(take)] = told
            return told

        seconds = len(bench.plan.level_check) / bench.plan.rate if level_only else bench.seconds
        begun = SoundState(key, LEVEL if level_only else take.file, seconds)
        lease = Lease(self._lease_seconds, time.monotonic)
        return self.runs.begin(SoundRun(begun, level if level_only else record, lease))

    def give_up(self) -> None:
        """Stop what sounds, and remove the recordings of the contact at hand."""
        self.runs.stop()
        with self._lock:
            self._drop()

    def end(self) -> None:
        """The bench ends: silence."""
        self.give_up()

    def _sounds(self) -> bool:
        last = self.runs.last()
        return last is not None and not last.state().over

    def _drop(self) -> None:
        contact, self._at_hand = self._at_hand, None
        self.runs.forget()
        if contact is not None:
            rmtree(contact.bench.folder, ignore_errors=True)


_MAKING = threading.Lock()


def recorder_of(request: Request) -> Recorder:
    """What this bench records with; made when it is first asked for, and silent when the bench ends."""
    state = request.app.state
    with _MAKING:
        if state.recorder is None:
            state.recorder = Recorder(state.recording)
            state.at_end.append(state.recorder.end)
    return cast(Recorder, state.recorder)
