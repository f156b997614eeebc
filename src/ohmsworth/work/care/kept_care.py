"""Care for a specimen of the records: as it was read last, with the outcomes that the shop's own studies hold."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from ohmsworth.errors import OhmsworthError
from ohmsworth.work.cards.specimen_history import InStudy, Point, points_of
from ohmsworth.work.care.care_study import ToldCare, report_care
from ohmsworth.work.care.form import CareForm, KeptOfSpecimen, KeptReadings, care_files
from ohmsworth.work.care.known_records import MOST_STUDIES
from ohmsworth.work.care.specimen_trend import dated_rows
from ohmsworth.work.care_ports import OutcomeRow
from ohmsworth.work.readable import in_ohms, in_volts
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_counts import counted_in
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_lines import kept_lines
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.taken_reading import TakenReading


def found_last(studies: Sequence[InStudy]) -> tuple[Point, ...]:
    """The resistances of the study and condition in which a specimen was read last with direct current."""
    last = _last(studies)
    if last is None:
        return ()
    study, condition = last
    return tuple(point for point in study.points if not point.by_tones and point.condition == condition)


def _last(studies: Sequence[InStudy]) -> tuple[InStudy, str] | None:
    points = [(one, point) for one in studies for point in one.points if not point.by_tones]
    if not points:
        return None
    study, last = max(points, key=lambda pair: pair[1].at.timestamp())
    return study, last.condition


def _read_last(desk: Desk, shop: Shop, studies: Sequence[InStudy], title: str) -> KeptReadings | None:
    """The readings behind `found_last` and their meters; None where some are in ohms, others in volts and amperes."""
    last = _last(studies)
    if last is None:
        return None
    study, condition = last
    state = desk.state(study.study)
    read = [
        replace(one, entry=replace(one.entry, specimen=title, step=None, note="", others={}))
        for one in counted_in(state)
        if one.entry.specimen in study.names and one.entry.condition == condition
    ]
    kinds = [[one for one in read if kind(one.entry)] for kind in (in_volts, in_ohms)]
    if all(kinds) or not any(kinds):
        return None
    alone = StudyState(readings=tuple(kinds[0] or kinds[1]))
    try:
        bench = desk.question(study.study, state).bench
        return KeptReadings(shop.folder_of(alone, None)["readings.csv"], kept_lines(alone), bench)
    except OhmsworthError:
        return None


def outcomes_kept(desk: Desk, shop: Shop, form: CareForm) -> tuple[OutcomeRow, ...]:
    """Contacts that were read before and after a remedy in one study, under the conditions that the form names."""
    if not form.before or not form.treated:
        return ()
    rows: list[OutcomeRow] = []
    for card in shop.records.cards("study", most=MOST_STUDIES):
        rows += _of_study(desk.state(card.number), form.before, form.treated, f"study {card.number}")
    return tuple(rows)


def _of_study(state: StudyState, before: str, treated: Mapping[str, str], job: str) -> list[OutcomeRow]:
    conditions = {one.entry.condition for one in state.counted if one.state == "used"}
    if before not in conditions or not conditions & set(treated):
        return []
    by_specimen: dict[str, list[TakenReading]] = defaultdict(list)
    for one in counted_in(state):
        by_specimen[one.entry.specimen].append(one)
    rows = []
    for specimen, readings in by_specimen.items():
        ohms = _by_contact(readings)
        contacts = {contact for condition, contact in ohms if condition == before}
        for condition, remedy in treated.items():
            for contact in sorted(contacts):
                if (condition, contact) in ohms:
                    name = f"{specimen} · {contact}" if contact else specimen
                    rows.append(
                        OutcomeRow(0, remedy, name, job, ohms[before, contact], ohms[condition, contact])
                    )
    return rows


def _by_contact(readings: Sequence[TakenReading]) -> dict[tuple[str, str], float]:
    """The middle resistance of each condition and contact."""
    groups: dict[tuple[str, str], list[float]] = defaultdict(list)
    for kind in (in_volts, in_ohms):
        for point in points_of([one for one in readings if kind(one.entry)]):
            if point.resistance > 0:
                groups[point.condition, point.contact].append(point.resistance)
    return {key: float(np.exp(np.log(values).mean())) for key, values in groups.items()}


def conditions_kept(desk: Desk, shop: Shop) -> tuple[str, ...]:
    """The conditions that the shop's studies have, to choose from."""
    names: dict[str, None] = {}
    for card in shop.records.cards("study", most=MOST_STUDIES):
        names.update(dict.fromkeys(one.entry.condition for one in desk.state(card.number).counted))
    return tuple(sorted(name for name in names if name))


def kept_care_files(
    desk: Desk, shop: Shop, form: CareForm, title: str, plating: str, studies: Sequence[InStudy]
) -> dict[str, bytes]:
    """The folder that asks about a specimen; it has been read with direct current."""
    kept = KeptOfSpecimen(
        title,
        plating,
        found_last(studies),
        dated_rows(studies, form.treated),
        outcomes_kept(desk, shop, form),
        _read_last(desk, shop, studies, title),
    )
    return care_files(form, kept)


def kept_care(shop: Shop, files: Mapping[str, bytes], today: date) -> ToldCare:
    """What to do with the specimen that a folder asks about.

    Raises
    ------
    InputRefused
        With every fault of what was typed.
    """
    return report_care(shop.read_care(files), today)
