"""What is found in takes as the answer that is printed, kept and reported."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.advice.cautions import UNPOWERED
from ohmsworth.inference.conformity import probability_within, verdict
from ohmsworth.report.answer import SourceAnswer
from ohmsworth.report.document import Document
from ohmsworth.report.takes_answer import (
    FORMAT,
    BendAnswer,
    BudgetOfAnswer,
    DirectAnswer,
    DryAnswer,
    InterfaceAnswer,
    LimitAnswer,
    ModelAnswer,
    NonOhmicAnswer,
    ProductAnswer,
    QuantityAnswer,
    RecordingAnswer,
    ResidualAnswer,
    RestAnswer,
    TakesAnswer,
    ToneAnswer,
)
from ohmsworth.report.takes_budget import budget_lines
from ohmsworth.report.takes_pages import takes_report, takes_summary
from ohmsworth.report.takes_sentences import graves_of, takes_findings, takes_method, takes_sentence
from ohmsworth.resistance.impedance.against_dc import CAUSES
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.nonohmic import Bend, NonOhmic, film_voltage
from ohmsworth.resistance.impedance.parts import Parts
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.sources import source
from ohmsworth.units import show
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.takes import Found, at_tone, find
from ohmsworth.work.takes_doubts import actions_of, doubts_of
from ohmsworth.work.tone_files import SERIES, Kind, Series

#: What intervals hold with, and what a verdict needs.
COVERAGE = 0.95
#: The budget is told for the tone nearest to this, in hertz, where nobody says another.
AT = 1000.0
_SOURCES = ("GUM", "Satterthwaite", "Kay", "IEEE1057", "IEC60512-2-1", "IEC60512-2-1-ac", "IEC60512-4")
_UNITS = {"film capacitance": "F", "inductance": "H"}


@dataclass(frozen=True, slots=True)
class Told:
    """An answer with its report and what of it fits a terminal."""

    answer: TakesAnswer
    report: Document
    summary: Document


def report_takes(loaded: LoadedTakes, at: float | None = None) -> Told:
    """The answer with its pages; see `answer_takes`."""
    answer = answer_takes(loaded, at)
    return Told(answer, takes_report(answer), takes_summary(answer))


def answer_takes(loaded: LoadedTakes, at: float | None = None) -> TakesAnswer:
    """Everything that the recordings of one contact say.

    Parameters
    ----------
    loaded
        The folder as it was read.
    at
        Hertz at which the budget is told, at the nearest tone; None for 1 kHz.

    Raises
    ------
    InputRefused
        With the faults of all recordings.
    """
    found = find(loaded)
    known = loaded.known
    bare = TakesAnswer(
        format=FORMAT,
        sentence="",
        findings=(),
        coverage=COVERAGE,
        resistance=quantity("resistance", "Ω", found.resistance),
        tones=_tones(found),
        model=None if found.parts is None else _model(found.parts),
        limit=_limit(found.resistance, known),
        direct=_direct(found, known),
        dry=_dry(found),
        nonohmic=None if found.nonohmic is None else _nonohmic(found.nonohmic),
        rest=_rest(found),
        interface=_interface(found),
        recordings=_recordings(loaded, found.takes),
        residual=_residual(found, known),
        budgets=_budgets(found, AT if at is None else at),
        warnings=(),
        actions=(),
        cautions=(UNPOWERED,),
        method=(),
        sources=_sources(found, known),
    )
    doubted = replace(bare, warnings=doubts_of(loaded, found, bare))
    if graves_of(doubted):
        doubted = replace(doubted, limit=None)
    return replace(
        doubted,
        sentence=takes_sentence(doubted),
        findings=takes_findings(doubted),
        actions=actions_of(loaded, found, doubted),
        method=takes_method(doubted),
    )


def quantity(name: str, unit: str, found: Estimated) -> QuantityAnswer:
    """A number with its interval."""
    low, high = found.interval(COVERAGE)
    freedom = found.freedom if math.isfinite(found.freedom) else None
    return QuantityAnswer(name, unit, found.value, found.uncertainty, freedom, low, high)


def _tones(found: Found) -> tuple[ToneAnswer, ...]:
    fit = None if found.parts is None else found.parts.fit
    covariance = found.curve.covariance()
    told = []
    for k, (frequency, value) in enumerate(zip(found.curve.frequency, found.curve.value, strict=True)):
        here = at_tone(found.curve, k)
        r, x = quantity("R", "Ω", here.real), quantity("X", "Ω", here.imaginary)
        spread = float(np.sqrt(covariance[k, 0, 0] * covariance[k, 1, 1]))
        told.append(
            ToneAnswer(
                float(frequency),
                r.value,
                r.standard_uncertainty,
                r.low,
                r.high,
                r.degrees_of_freedom,
                x.value,
                x.standard_uncertainty,
                x.low,
                x.high,
                x.degrees_of_freedom,
                float(np.abs(value)),
                float(np.angle(value)),
                here.real.random,
                float(covariance[k, 0, 1]) / spread if spread > 0 else 0.0,
                None if fit is None else float(fit[k].real),
                None if fit is None else float(fit[k].imag),
            )
        )
    return tuple(told)


_WORDS = {
    "resistance": "A resistance alone.",
    "series": "A resistance and an inductance in series.",
    "film": "A resistance, and a film with a capacitance across it.",
    "falls": "A resistance that falls with frequency, as a film's does that is bridged by its capacitance; the tones do not tell "
    "its parts from each other.",
    "skin": "A resistance with skin effect.",
    "rises": "A resistance that rises with frequency, as by skin effect; the tones do not tell its parts from each other.",
}


def _model(found: Parts) -> ModelAnswer:
    bent = {"film": found.film, "falls": found.film, "skin": found.skin, "rises": found.skin}.get(found.model)
    chance = bent.p_value if bent is not None else found.inductance_p if found.model == "series" else None
    film = found.film
    seen = found.model in ("film", "falls")
    apart = bent is not None and bent.apart
    assert bent is None or bent.low >= 0
    return ModelAnswer(
        found.model,
        _WORDS[found.model],
        tuple(quantity(name, _UNITS.get(name, "Ω"), part) for name, part in found.parameters.items()),
        bent.corner if bent is not None and apart else None,
        bent.low if bent is not None and apart else None,
        bent.high if bent is not None and apart else None,
        chance,
        None if film is None or seen else film.bound,
        quantity("rise", "Ω", found.rise),
        found.consistency.p_value,
    )


def _limit(resistance: Estimated, known: Known) -> LimitAnswer | None:
    limit = known.limit
    if limit is None:
        return None
    chance = float(
        probability_within(resistance.value, resistance.uncertainty, resistance.freedom, limit.resistance)
    )
    return LimitAnswer(limit.resistance, limit.source, chance, verdict(chance, COVERAGE))


def _direct(found: Found, known: Known) -> DirectAnswer | None:
    stated, against = known.direct, found.direct
    if stated is None or against is None:
        return None
    return DirectAnswer(
        stated.resistance,
        stated.uncertainty,
        stated.current,
        stated.reversed_too,
        quantity("difference", "Ω", against.difference),
        against.p_value,
        against.explained,
        tuple(CAUSES[cause] for cause in against.causes),
    )


def _dry(found: Found) -> DryAnswer:
    dry = found.dry
    return DryAnswer(
        dry.voltage.largest,
        dry.voltage.rms,
        dry.current.largest,
        dry.current.rms,
        dry.open_circuit,
        dry.highest,
        dry.exceeded,
        dry.by_drive,
    )


def _nonohmic(found: NonOhmic) -> NonOhmicAnswer:
    lines = found.lines
    columns = (lines.frequency, lines.order, lines.tone, np.abs(lines.excess), lines.critical, lines.limit)
    rows = zip(*columns, lines.index, lines.index_limit, strict=True)
    volts = film_voltage(found.third.coefficient.value)
    seen = found.third.verdict == "contact" and math.isfinite(volts)
    return NonOhmicAnswer(
        _bend(2, found.second),
        _bend(3, found.third),
        found.largest,
        volts if seen else None,
        tuple(
            ProductAnswer(float(f), int(n), _number(t), float(v), float(c), float(m), _number(i), _number(j))
            for f, n, t, v, c, m, i, j in rows
        ),
    )


def _bend(order: int, found: Bend) -> BendAnswer:
    return BendAnswer(
        order,
        found.coefficient.value,
        found.coefficient.uncertainty,
        found.critical,
        found.limit,
        found.inputs,
        found.p_value,
        _number(found.index),
        found.index_limit,
        found.verdict,
    )


def _number(value: float) -> float | None:
    """None for what is no finite number."""
    return float(value) if math.isfinite(value) else None


def _rest(found: Found) -> RestAnswer | None:
    rest = found.rest
    if rest is None:
        return None
    return RestAnswer(
        rest.verdict,
        rest.drift,
        rest.drift_uncertainty,
        rest.drift_p,
        rest.rms,
        rest.rms_high,
        rest.p_value,
        None if rest.law is None else rest.law.exponent,
        tuple(map(float, rest.time)),
        tuple(map(float, rest.change)),
    )


def _interface(found: Found) -> InterfaceAnswer:
    inputs, leak = found.measured.inputs, found.measured.leak
    furthest = max(found.takes.values(), key=lambda take: abs(take.clock))
    first, second = (float(np.median(row)) for row in found.noise)
    hum = found.hum
    return InterfaceAnswer(
        None if inputs is None else float(np.abs(inputs[0])) - 1,
        None if inputs is None else float(np.angle(inputs[-1])),
        float(np.abs(leak).max()) if leak.size else None,
        furthest.clock,
        furthest.clock_uncertainty,
        all(take.shared_clock for take in found.takes.values()),
        (first, second),
        None if hum is None else (hum.rms[0] * found.full_scale[0], hum.rms[1] * found.full_scale[1]),
        None if hum is None else hum.mains,
    )


def _recordings(
    loaded: LoadedTakes, takes: Mapping[tuple[Series, Kind], Take]
) -> tuple[RecordingAnswer, ...]:
    return tuple(
        RecordingAnswer(
            recording.name,
            series,
            kind,
            recording.frames / recording.rate,
            recording.bits,
            takes[series, kind].clock,
        )
        for (series, kind), recording in loaded.recordings.items()
    )


def _residual(found: Found, known: Known) -> ResidualAnswer | None:
    names = tuple(one for one in SERIES if one != "contact" and (one, "straight") in found.takes)
    if not names:
        return None
    off = found.measured.curve.value - found.curve.value
    load = known.load.resistance if known.load is not None and "load" in names else None
    return ResidualAnswer(
        names, known.calibrated, load, tuple(map(float, off.real)), tuple(map(float, off.imag))
    )


def _budgets(found: Found, at: float) -> tuple[BudgetOfAnswer, ...]:
    f = found.curve.frequency
    k = int(np.abs(np.log(f / at)).argmin())
    here, hertz = at_tone(found.curve, k), float(f[k])
    asked = (
        ("the resistance", None, found.resistance),
        (f"R at {show(hertz, 'Hz')}", hertz, here.real),
        (f"X at {show(hertz, 'Hz')}", hertz, here.imaginary),
    )
    return tuple(BudgetOfAnswer(of, where, budget_lines(one)) for of, where, one in asked)


def _sources(found: Found, known: Known) -> tuple[SourceAnswer, ...]:
    keys = list(_SOURCES)
    keys += ["KenwardRoger", "Davies"] if found.parts is not None else []
    keys += ["JCGM106"] if known.limit is not None else []
    keys += ["film-memory", "IEC60440", "Currie"] if found.nonohmic is not None else []
    keys += ["Whittle"] if found.rest is not None else []
    keys += ["open-short-load"] if ("short", "straight") in found.takes else []
    return tuple(SourceAnswer(s.key, s.citation, s.standing) for s in map(source, keys))
