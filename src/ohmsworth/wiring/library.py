"""What other programs call by ``ohmsworth``: from a folder's name to its answer."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.wiring.asked_records import ageing_of, service_card_of
from ohmsworth.wiring.folders import (
    load_cable,
    load_care,
    load_question,
    load_studies,
    load_study,
    load_workshop,
)
from ohmsworth.wiring.folders import load_network as read_network
from ohmsworth.wiring.records import default_records
from ohmsworth.wiring.tones import load_takes as load

if TYPE_CHECKING:
    from ohmsworth.readings import Study
    from ohmsworth.report.cable_answer import CableAnswer
    from ohmsworth.report.care.ageing_answer import AgeingAnswer
    from ohmsworth.report.care.care_answer import CareAnswer
    from ohmsworth.report.care.known_answer import KnownAnswer
    from ohmsworth.report.papers.service_card import CableService, SpecimenService
    from ohmsworth.report.plan_answer import PlanAnswer
    from ohmsworth.report.takes_answer import TakesAnswer
    from ohmsworth.report.workshop.answer import WorkshopAnswer
    from ohmsworth.work.loaded_takes import LoadedTakes
    from ohmsworth.work.ports import LoadedCable, LoadedNetwork, LoadedStudy


def load_network(path: str | PathLike[str]) -> LoadedNetwork:
    """Read a Touchstone file of one or two ports, as network analysers write it.

    Raises
    ------
    InputRefused
        With every fault of the file in `faults`.
    """
    return read_network(Path(path))


def plan(
    study: str | PathLike[str] | Study,
    past: Sequence[str | PathLike[str] | LoadedStudy] = (),
    seed: int = 1,
) -> PlanAnswer:
    """Find the cheapest plan that is likely to settle a question, before anything is read.

    Parameters
    ----------
    study
        The folder's name, of which only ``study.toml`` is read, or a study with a `plan`.
    past
        Past studies, from which the scatter is taken.
    seed
        From which the bench sheet is drawn.

    Raises
    ------
    InputRefused
        When something that the plan needs is missing or at fault.
    """
    from ohmsworth.readings import Study
    from ohmsworth.work.plan_study import plan_study
    from ohmsworth.work.ports import LoadedStudy

    question = study if isinstance(study, Study) else load_question(Path(study))
    before = [
        (one.study.question, one) if isinstance(one, LoadedStudy) else (Path(one).name, load_study(Path(one)))
        for one in past
    ]
    return plan_study(question, before, seed)


def cable(folder: str | PathLike[str] | LoadedCable) -> CableAnswer:
    """Say what to measure at a built cable, or whether it is right once it was measured: ohm, metre.

    Parameters
    ----------
    folder
        The folder's name (``cable.toml``, and ``test.csv`` once there is one), or a `LoadedCable`.

    Raises
    ------
    InputRefused
        With every fault of both files in `faults`.
    ArgumentFault
        When there are measurements and no meter is stated.
    """
    from ohmsworth.work.cable_study import cable_study
    from ohmsworth.work.ports import LoadedCable

    return cable_study(folder if isinstance(folder, LoadedCable) else load_cable(Path(folder)))


def care(folder: str | PathLike[str], today: date | None = None) -> CareAnswer:
    """Say what to do with a contact (``care.toml``, and what was read and recorded beside it).

    Parameters
    ----------
    folder
        The folder's name.
    today
        The day of asking, where the file does not say when the contact was found; None takes today.

    Raises
    ------
    InputRefused
        With every fault of all files in `faults`.
    """
    from ohmsworth.work.care.care_study import care_study

    return care_study(load_care(Path(folder)), today or datetime.now(UTC).astimezone().date())


def known(folders: Sequence[str | PathLike[str]], of: str = "", against: str = "") -> KnownAnswer:
    """Say what several studies know together of one comparison, and what a new lot would show.

    Parameters
    ----------
    folders
        Names of the studies' folders.
    of, against
        The two conditions; "" takes the pair, with the studies' reference, that the most of them have.

    Raises
    ------
    InputRefused
        With every fault of all folders in `faults`, or when the pair cannot be told.
    """
    from ohmsworth.work.care.known_studies import known_studies

    return known_studies(load_studies([Path(folder) for folder in folders]), of, against)


def ageing(
    records: str | PathLike[str] | None = None, *, by: str, only: Mapping[str, str] | None = None
) -> AgeingAnswer:
    """Say how contacts age, over everything in the shop's records: factors of the resistance a year.

    Parameters
    ----------
    records
        Path or address of the records; None takes ``OHMSWORTH_RECORDS``, or the file among the user's own data.
    by
        What contacts are told apart by: "part", "plating", "age" (when they were read first), "lot" (the supplier's),
        "treatment" or "condition".
    only
        What they must have in common, such as ``{"plating": "gold"}``.

    Raises
    ------
    InputRefused
        For other words, where there are no records, or nothing in them has what is chosen.
    """
    chosen = [f"{what}={value}" for what, value in (only or {}).items()]
    return ageing_of(_address(records), by, chosen)


def service_card(
    serial: str, records: str | PathLike[str] | None = None, *, card: int | None = None, air: str = ""
) -> SpecimenService | CableService:
    """Say what was found at a specimen or a cable, what was done, how it is now, and when to look again: ohm.

    Parameters
    ----------
    serial
        As it is written on the piece.
    records
        Path or address of the records; None takes ``OHMSWORTH_RECORDS``, or the file among the user's own data.
    card
        Number of its card, where a specimen and a cable, or several cables, have this serial.
    air
        Class of the air that a specimen is kept in, from "G1" (mild) to "GX" (severe); "" where nobody said.

    Raises
    ------
    InputRefused
        Where there are no records, none has the serial, several do and none of them is named, or nothing can be told of it.
    """
    return service_card_of(serial, _address(records), card, air).answer


def load_takes(folder: str | PathLike[str]) -> LoadedTakes:
    """Read the folder of a measurement over frequency (``tones.toml``, ``plan.json``), and open its recordings.

    Raises
    ------
    InputRefused
        With every fault of both files in `faults`; a recording that cannot be opened is refused by `takes`.
    """
    return load(Path(folder))


def takes(folder: str | PathLike[str] | LoadedTakes, at: float | None = None) -> TakesAnswer:
    """Find the impedance of a contact over frequency from recordings of an audio interface: ohm, hertz.

    Parameters
    ----------
    folder
        The folder's name, or what `load_takes` gave.
    at
        Hertz at which the budget of the uncertainty is told, at the nearest tone; None for 1 kHz.

    Raises
    ------
    InputRefused
        With the faults of everything that cannot be used.
    """
    from ohmsworth.work.answer_takes import answer_takes
    from ohmsworth.work.loaded_takes import LoadedTakes

    return answer_takes(folder if isinstance(folder, LoadedTakes) else load_takes(folder), at)


def workshop(
    folders: str | PathLike[str] | Sequence[str | PathLike[str]],
    reels: str | PathLike[str] | None = None,
    prices: str | PathLike[str] | None = None,
    quantity: int | None = None,
    seconds: float = 20.0,
) -> WorkshopAnswer:
    """Say what the workshop needs to build cables: metre, minutes, money as text.

    Parameters
    ----------
    folders
        One folder's name, or several (``cable.toml`` in each).
    reels
        A file of the reels in stock; None plans no cutting.
    prices
        A file of the shop's prices and times; None makes no estimate.
    quantity
        Copies of each cable; None for what its description says.
    seconds
        For the solver, each wire.

    Raises
    ------
    InputRefused
        With every fault of all files in `faults`.
    ArgumentFault
        For no folder, or a quantity or seconds that cannot be.
    """
    from ohmsworth.work.workshop.order import workshop_order

    named = [folders] if isinstance(folders, str | PathLike) else folders
    read = load_workshop([Path(one) for one in named], _path(reels), _path(prices))
    return workshop_order(read, quantity, seconds)


def _path(name: str | PathLike[str] | None) -> Path | None:
    return None if name is None else Path(name)


def _address(records: str | PathLike[str] | None) -> str:
    return default_records() if records is None else os.fspath(records)
