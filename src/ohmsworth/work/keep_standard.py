"""Takes of a short, a load or an open kept with a study: taken off every contact that is kept after them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.study import Study
from ohmsworth.report.words import count
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.residual import corrected
from ohmsworth.units import show, show_percent, show_pm, show_stated
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.contact_takes import standard_of
from ohmsworth.work.keep_take import planned, told_at
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import PUT_BACK, STANDARD, WITHDRAWN, StudyState
from ohmsworth.work.study_tones import refuse_other_tones, tones_of
from ohmsworth.work.take_log import StandardTakes, standard_fields
from ohmsworth.work.take_resistance import resistance_at
from ohmsworth.work.take_told import curve_of, digest_of, told_of
from ohmsworth.work.takes import at_tone, lacking
from ohmsworth.work.tone_files import SERIES, Series
from ohmsworth.work.uploads import Uploads, as_sent, open_uploads, refuse_copies


@dataclass(frozen=True, slots=True)
class KeptStandard:
    """What became of takes of a standard: the line that keeps them, what they tell in a sentence, and doubts.

    `before` says how many takes of contacts were kept before, and are not freed from what it takes off; "" where none were.
    """

    number: int
    sentence: str
    doubts: tuple[Doubt, ...]
    before: str = ""


def keep_standard(
    shop: Shop,
    desk: Desk,
    study: int,
    state: StudyState,
    series: Series,
    uploads: Uploads,
    by: str,
    key: str,
) -> KeptStandard:
    """Analyse the takes of a standard, and keep what they told; a key that is known is kept once.

    Raises
    ------
    InputRefused
        With every fault of the recordings; for a load without a short or of which nobody says what it is, and an open without a
        load; or no tones were planned, or the study is closed.
    """
    question = desk.question(study, state)
    tones = planned(tones_of(shop, study, state, desk))
    known = next((one for one in state.standards if one.key == key), None)
    if known is not None:
        return _told(question, tones.known, state, series, known.number, known.told)
    refuse_closed(state)
    faults = lacking({series, *state.standard_of}, tones.known)
    if series not in SERIES[1:]:
        expected = "short, load or open"
        faults.append(Fault("series", repr(series), expected, "Say what was in the contact's place."))
    try:
        opened = open_uploads(shop, state, uploads, tones.known.channels)
        loaded = LoadedTakes(tones.wishes, tones.known, tones.plan, {}, (), ())
        curve, doubts = standard_of(loaded, series, opened.recordings)
    except InputRefused as refused:
        raise InputRefused((*faults, *as_sent(refused, uploads).faults)) from refused
    if faults:
        raise InputRefused(tuple(faults))
    told = {
        **told_of(curve),
        "doubts": [[one.doubt.code, f"{one.file}: {one.doubt.words}", one.doubt.mend] for one in doubts],
    }
    fields = standard_fields(series, opened.files, digest_of(opened.files), told)
    number = shop.records.add(study, by, [NewLine(key, STANDARD, fields)], study_face)[0].number
    return _told(question, tones.known, state, series, number, told)


def withdraw_standard(
    shop: Shop, study: int, state: StudyState, number: int, reason: str, by: str, key: str
) -> None:
    """Take a standard off no more contacts; those kept before stay as they are. The one before it counts again.

    Raises
    ------
    InputRefused
        Where there is no such standard in use, no reason is given, or the study is closed.
    """
    _change(shop, study, state, number, WITHDRAWN, reason, by, key)


def put_back_standard(
    shop: Shop, study: int, state: StudyState, number: int, reason: str, by: str, key: str
) -> None:
    """Have a standard that was withdrawn taken off again.

    Raises
    ------
    InputRefused
        Where there is none, its tones or its recordings stand against it, no reason is given, or the study is closed.
    """
    _change(shop, study, state, number, PUT_BACK, reason, by, key)


def _change(
    shop: Shop, study: int, state: StudyState, number: int, kind: str, reason: str, by: str, key: str
) -> None:
    if shop.records.card_of(key) == study:  # sent again because its answer had not come
        return
    refuse_closed(state)
    faults = []
    standard = next((one for one in state.standards if one.number == number), None)
    wanted = "used" if kind == WITHDRAWN else "withdrawn"
    if standard is None or standard.state != wanted:
        found = "no standard" if standard is None else f"one that is {standard.state}"
        mend = "Look at the standards again: they may have been changed meanwhile."
        faults.append(Fault(f"line {number}", found, f"a standard that is {wanted}", mend))
    if not reason.strip():
        mend = "Say in a few words why: it stands in the record."
        faults.append(Fault("the reason", "nothing", "why it is changed", mend))
    if faults:
        raise InputRefused(tuple(faults))
    if standard is not None and kind == PUT_BACK:
        where = f"the {standard.series}"
        refuse_copies(state, standard.files, where)
        frequency = curve_of(standard.told).frequency.tolist()
        refuse_other_tones(tones_of(shop, study, state), frequency, where)
    shop.records.add(study, by, [NewLine(key, kind, about=number, reason=reason.strip())])


def standard_sentence(question: Study, known: Known, state: StudyState, one: StandardTakes) -> str:
    """What takes of a standard tell: what the short leaves, or how far the load reads from its value."""
    return _told(question, known, state, one.series, one.number, one.told).sentence


def _told(
    question: Study, known: Known, state: StudyState, series: Series, number: int, told: Mapping[str, Any]
) -> KeptStandard:
    sentence = {"short": _of_short, "load": _of_load}.get(series, _of_open)(question, known, state, told)
    return KeptStandard(number, sentence, sound_doubts_of(told), kept_before(state, series, number))


def kept_before(state: StudyState, series: Series, number: int) -> str:
    """That takes of contacts were kept before the standard of line `number`; "" where none were."""
    earlier = sum(one.reading.number < number and one.reading.state == "used" for one in state.counted_takes)
    if not earlier:
        return ""
    was = "was" if earlier == 1 else "were"
    them = (
        "its recordings again, and withdraw the one"
        if earlier == 1
        else "their recordings again, and withdraw the ones"
    )
    return (
        f"{count(earlier, 'take')} of contacts {was} kept before it: what the {series} takes off is still in "
        f"{'that' if earlier == 1 else 'those'}. Send {them} from before, to have all takes alike."
    )


def sound_doubts_of(told: Mapping[str, Any]) -> tuple[Doubt, ...]:
    """What is doubtful about the sound of a standard's recordings, as it was kept."""
    return tuple(Doubt(code, words, (), mend) for code, words, mend in told.get("doubts", ()))


def _of_short(question: Study, known: Known, state: StudyState, told: Mapping[str, Any]) -> str:  # noqa: ARG001
    """Residual R, and residual inductance by the highest tone."""
    curve = curve_of(told)
    frequency, value = resistance_at(question.frequencies, curve)
    last = float(curve.frequency[-1])
    henry = scaled(at_tone(curve, len(curve.frequency) - 1).imaginary, 1 / (2 * np.pi * last))
    low, high = henry.interval(question.coverage)
    return (
        f"The short leaves {told_at(value, frequency, question.coverage)}, and "
        f"{show_pm(henry.value, (high - low) / 2, 'H')} by the tone of {show(last, 'Hz')}. Both are taken off every contact "
        f"from now on; after ± stands half the width of the {show_percent(question.coverage)} interval."
    )


def _of_load(question: Study, known: Known, state: StudyState, told: Mapping[str, Any]) -> str:
    """The load freed from the short, beside what is stated of it."""
    curve = curve_of(told)
    short = state.standard_of.get("short")
    if short is not None:
        curve = corrected(curve, curve_of(short.told))
    frequency, value = resistance_at(question.frequencies, curve)
    words = f"The load reads {told_at(value, frequency, question.coverage)}"
    if known.load is None:
        return f"{words}."
    stated = known.load.resistance
    off = value.value / stated - 1
    way = f"{100 * abs(off):.2g} % {'above' if off > 0 else 'below'}" if off else "exactly"
    return (
        f"{words}, {way} the {show_stated(stated, 'Ω')} that are stated (±{100 * known.load.tolerance:.3g} %). "
        "Its stated value is taken for the scale of every contact from now on."
    )


def _of_open(question: Study, known: Known, state: StudyState, told: Mapping[str, Any]) -> str:  # noqa: ARG001
    curve = curve_of(told)
    frequency, _ = resistance_at(question.frequencies, curve)
    size = abs(complex(curve.value[int(np.argmin(np.abs(curve.frequency - frequency)))]))
    return (
        f"With nothing in the contact's place {show(size, 'Ω', 2)} are read at {show(frequency, 'Hz')}: this much leaks past "
        "a contact. It is taken off every contact from now on."
    )


def scaled(found: Estimated, factor: float) -> Estimated:
    """`found` times a factor that is known exactly."""
    shared = {name: factor * part for name, part in found.shared.items()}
    return replace(found, value=factor * found.value, random=abs(factor) * found.random, shared=shared)
