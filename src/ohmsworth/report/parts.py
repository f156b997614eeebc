"""Plugs and sockets that are re-paired with each other: which is high with every partner, in words, table and picture."""

from __future__ import annotations

from ohmsworth.report.answer import Answer, Interval, PartAnswer
from ohmsworth.report.document import Axis, IntervalFigure, IntervalMark
from ohmsworth.report.words import count, estimate, like, listed, natural, times
from ohmsworth.units import decimals_for, show, show_interval

#: Parts that are drawn and tabled; beyond, those farthest from the middle.
MOST_PARTS = 40
#: Scatter below this share of the resistance is no news.
_SMALL = 0.05
#: More parts than this are not named one by one.
_MOST_NAMED = 3
#: Ratios up to this are told in percent.
_PERCENT_UP_TO = 3.0
_PLURAL = {"plug": "plugs", "socket": "sockets"}
_OTHER = {"plug": "socket", "socket": "plug"}


def part_sentences(answer: Answer) -> list[str]:
    """The parts that are high whatever they are paired with, or that it is the pairing; nothing where scatter is small."""
    out = [p for p in answer.parts if p.stands_out and _far(p, answer)]
    high = sorted((p for p in out if p.stands_out == "high"), key=lambda p: -(p.effect.value or 0.0))
    if high:
        more = (
            f" {count(len(high) - _MOST_NAMED, 'more part')} stand out as high." if high[_MOST_NAMED:] else ""
        )
        told = [_high(part, answer) for part in high[:_MOST_NAMED]]
        return [*told[:-1], told[-1] + more]
    return _pairing(answer) if answer.parts and not out else []


def _far(part: PartAnswer, answer: Answer) -> bool:
    """Whether a part lies far enough from the middle of its kind to be spoken of."""
    away = (part.effect.value or 0.0) - (1.0 if answer.scale == "log" else 0.0)
    return abs(away) >= _least(answer)


def _least(answer: Answer) -> float:
    """The smallest scatter or effect worth telling, on the scale of the answer."""
    if answer.scale == "log":
        return _SMALL
    return _SMALL * max(abs(c.resistance) for c in answer.conditions)


def _high(part: PartAnswer, answer: Answer) -> str:
    others = len({p.id for p in answer.parts if p.kind == _OTHER[part.kind]})
    partner = _OTHER[part.kind]
    if part.above < part.partners:
        who = f"{part.above} of the {part.partners} {partner}s that it was paired with"
    else:
        who = f"every {partner}" + ("" if part.partners >= others > 0 else " that it was paired with")
    kind = _PLURAL[part.kind]
    alike = len({p.conditions for p in answer.parts if p.kind == part.kind}) == 1
    middle = f"the middle of the {kind}" + ("" if alike else " under the same conditions")
    return f"{part.kind.capitalize()} {part.id} is high with {who}: {_away(part.effect, answer, middle)}."


def _away(effect: Interval, answer: Answer, middle: str) -> str:
    value, low, high = effect.value or 0.0, effect.low or 0.0, effect.high or 0.0
    if answer.scale != "log":
        return f"{like(value, low, high)} above {middle} ({show_interval(low, high, 'Ω')})"
    if value > _PERCENT_UP_TO:
        told, _, ends = times(value, low, high).partition(" (")
        return f"{told} {middle} ({ends}"
    percents = [100 * (ratio - 1) for ratio in (value, low, high)]
    digits = max(decimals_for((percents[2] - percents[1]) / 2, 2), 0) if percents[2] > percents[1] else 1
    return "{:.{d}f} % above {} ({:.{d}f} to {:.{d}f} %)".format(
        percents[0], middle, percents[1], percents[2], d=digits
    )


def _pairing(answer: Answer) -> list[str]:
    """That pairs scatter, and not the parts that they are made of."""
    sizes = {name: _scatter(answer, name) for name in ("plug", "socket", "specimen")}
    pair = sizes["specimen"]
    single = {name: sizes[name] for name in ("plug", "socket") if sizes[name] is not None}
    if pair is None or pair < _least(answer) or any(pair <= (size or 0.0) for size in single.values()):
        return []
    beside = listed([f"{_PLURAL[name]} by {_size(answer, size or 0.0)}" for name, size in single.items()])
    apart = all("specimen" not in s.merged for s in answer.scatter)
    if apart:
        return [f"It is the pairing, not a single part: pairs scatter by {_size(answer, pair)}, {beside}."]
    size = _size(answer, pair)
    told = f"It is the pairing or the mating, not a single part: they scatter by {size}, {beside}"
    return [f"{told}; mate each pair again to tell the two apart."]


def _scatter(answer: Answer, level: str) -> float | None:
    """The largest standard deviation found for a level, or for what it is merged into."""
    found = [s.standard_deviation for s in answer.scatter if level == s.level or level in s.merged]
    return max(found, default=None)


def _size(answer: Answer, deviation: float) -> str:
    return f"{100 * deviation:.2g} %" if answer.scale == "log" else show(deviation, "Ω", 2)


def shown_parts(answer: Answer) -> list[PartAnswer]:
    """What is drawn and tabled, plugs first: all, or those farthest from the middle of their kind."""
    middle = 1.0 if answer.scale == "log" else 0.0
    far = sorted(answer.parts, key=lambda p: -abs((p.effect.value or middle) - middle))[:MOST_PARTS]
    kinds = [p.kind for p in answer.parts]
    return sorted(far, key=lambda p: (kinds.index(p.kind), natural(p.id)))


def part_header(answer: Answer) -> tuple[str, ...]:
    """Heads of the table's columns."""
    how = "ratio to the middle" if answer.scale == "log" else "above the middle"
    return ("part", "conditions", "partners", "higher with", "resistances", how, "stands out")


def part_rows(answer: Answer) -> tuple[tuple[str, ...], ...]:
    """One row a part."""
    return tuple(
        (
            f"{p.kind} {p.id}",
            listed(list(p.conditions)),
            str(p.partners),
            f"{p.above} of {p.partners}",
            str(p.readings),
            _effect(p.effect, answer),
            p.stands_out or "no",
        )
        for p in shown_parts(answer)
    )


def _effect(effect: Interval, answer: Answer) -> str:
    if effect.low is None or effect.high is None:
        return "not told apart"
    if answer.scale == "log":
        return times(effect.value, effect.low, effect.high).replace(" times", "")
    return estimate(effect.value or 0.0, effect.low, effect.high)


def part_note(answer: Answer) -> str:
    """What stands below the table."""
    note = (
        "Each against the middle of its kind under the same conditions: a prediction with its "
        f"{100 * answer.coverage:g} % interval. A part that was read little is drawn towards the middle."
    )
    left = len(answer.parts) - len(shown_parts(answer))
    return note + (f" {count(left, 'more part')} in the answer's data (JSON)." if left else "")


def parts_figure(answer: Answer) -> IntervalFigure | None:
    """Every part with its interval about the middle of its kind; None where no part was told apart."""
    relative = answer.scale == "log"
    marks = tuple(
        IntervalMark(_PLURAL[p.kind], p.id, p.effect.value, p.effect.low, p.effect.high, p.stands_out or "")
        for p in shown_parts(answer)
        if p.effect.value is not None and p.effect.low is not None and p.effect.high is not None
    )
    if not marks:
        return None
    out = [f"{p.kind} {p.id} is {p.stands_out}" for p in shown_parts(answer) if p.stands_out]
    words = listed(out) if out else "none stands out"
    axis = (
        Axis("times the middle of its kind", "", True)
        if relative
        else Axis("above the middle of its kind", "Ω")
    )
    return IntervalFigure(
        "parts",
        f"Plugs and sockets against the middle of their kind: {words}.",
        "Which plug or socket is high, whatever it is paired with? Each with its prediction interval; the line is the middle.",
        axis,
        marks,
        1.0 if relative else 0.0,
    )
