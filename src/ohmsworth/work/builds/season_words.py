"""A season of cables in sentences, tables and pictures."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ohmsworth.report.document import Axis, Block, Bullets, Document, Headline, Line, LineFigure, Section
from ohmsworth.report.tables import table
from ohmsworth.report.words import capital, count
from ohmsworth.units import decimals_for, show_percent
from ohmsworth.work.builds.season import COVERAGE, FEWEST_PERIODS, By, Course, Drift, Period, Season

#: Lines that are told apart in one picture.
MOST_LINES = 5
#: Kinds of fault that are named where they are equally often.
MOST_KINDS = 3
#: Wider than this, an interval says nothing of a drift.
_TOO_WIDE = 0.5
#: A scale spans at least so much, so that small differences look small.
_LEAST_RATIO = 0.04
_FAULTS = {
    "open": "a wire does not reach",
    "screen open": "a screen does not reach",
    "screen on shell": "a screen touches the shell",
    "crossed": "two wires exchanged",
    "reversed pair": "a pair reversed",
    "moved": "wires moved round",
    "touch": "something touches",
    "touch not found yet": "something touches, not found which",
    "link open": "a link is missing",
    "link poor": "a link is bad",
    "not as described": "all wires off alike",
    "over": "a wire over its bounds",
    "under": "a wire under its bounds",
}
_METHOD = (
    "Each cable counts once, in the {by} of its last measurement.",
    """\
Right at the first complete test means: the verdict was “right” before anything was measured a second time. A cable that was \
mended and then passed was not. A row that was withdrawn was a slip and does not count. A description that was changed later \
counts as it stands now.""",
    "The interval of a share is the exact one of counts (Clopper and Pearson).",
    """\
A ratio is what a wire read from end to end, divided by what its description expects: contacts and conductor together. Wires \
beside which other ways lead are left out. Each cable gives one median; each {by} the median of its cables.""",
    """\
A change is a straight line through the {by}s. A {by} counts as one observation, however many cables it has, since they \
share wire, meter and hands. All intervals together hold with {coverage} confidence. A connector is read together with the \
conductors of its cables: where both change, look for one of them alone to see which it is.""",
)


def season_report(season: Season) -> Document:
    """The season, its sentence first."""
    sections = [Section("The season", _first(season))]
    if season.faults:
        sections.append(Section("What was wrong", (_faults(season),)))
    for title, courses in (("Connectors", season.connectors), ("Conductors", season.conductors)):
        if courses:
            sections.append(Section(title, _courses(title, courses, season.by)))
    if season.periods:
        method = tuple(words.format(by=season.by, coverage=f"{100 * COVERAGE:g} %") for words in _METHOD)
        sections.append(Section("How it is counted", (Bullets(method),)))
    return Document("A season of cables", "", "en", "", tuple(sections))


def season_sentence(season: Season) -> str:
    """What a season amounts to."""
    if not season.tested:
        return "No cable has been tested completely yet."
    since = f"since the {season.by} of {season.periods[0].start}"
    if season.tested == 1:
        verdict = "and was right" if season.right else "and was not right"
        return f"One cable was tested {since}, {verdict} at its first complete test."
    if season.right == season.tested:
        return f"All {count(season.tested, 'cable')} tested {since} were right at the first complete test."
    if not season.right:
        return f"None of {count(season.tested, 'cable')} tested {since} was right at the first complete test."
    share = show_percent(season.right / season.tested)
    return (
        f"Of {count(season.tested, 'cable')} tested {since}, {share} were right at the first complete test."
    )


def _first(season: Season) -> tuple[Block, ...]:
    said = [*_drift_sentences(season)]
    if season.faults:
        said.insert(0, _most_often(season))
    if season.begun:
        said.append(f"{count(season.begun, 'cable')} more: measured in part, and not counted yet.")
    blocks: list[Block] = [Headline(season_sentence(season))]
    if said:
        blocks.append(Bullets(tuple(said)))
    if len(season.periods) > 1:
        blocks.append(_right_figure(season))
    if season.periods:
        blocks.append(_periods(season))
    return tuple(blocks)


def _most_often(season: Season) -> str:
    """What was wrong most often, with all kinds that are equally often; of many of them no name says anything."""
    most = season.faults[0][1]
    kinds = [_fault(kind) for kind, number in season.faults if number == most]
    if len(kinds) == 1:
        return f"What was wrong most often: {kinds[0]}, in {count(most, 'cable')}."
    # Some of their names hold a comma.
    told = "several kinds of fault" if len(kinds) > MOST_KINDS else "; ".join(kinds)
    return f"What was wrong most often, in {count(most, 'cable')} each: {told}."


def _drift_sentences(season: Season) -> list[str]:
    courses = (*season.connectors, *season.conductors)
    told = [course for course in courses if course.drift is not None]
    sure = [course for course in told if course.drift and course.drift.low * course.drift.high > 0]
    if not told:
        return (
            [f"Whether anything drifts is not to be told before {FEWEST_PERIODS} {season.by}s have cables."]
            if courses
            else []
        )
    if not sure:
        return ["Of no connector and no conductor is it shown that it drifts."]
    return [f"“{course.name}” {_moves(course.drift)}." for course in sure if course.drift]


def _moves(drift: Drift) -> str:
    way = "rises" if drift.value > 0 else "falls"
    low, high = sorted((abs(drift.low), abs(drift.high)))
    decimals = _decimals(drift)
    return (
        f"{way} by {_percent(abs(drift.value), decimals)} a month against what is expected "
        f"({_percent(low, decimals)} to {_percent(high, decimals)})"
    )


def _decimals(drift: Drift) -> int:
    half = 50 * (drift.high - drift.low)
    return min(max(decimals_for(half, 2), 0), 3) if half > 0 else 3


def _percent(share: float, decimals: int) -> str:
    return f"{100 * share:.{decimals}f} %".replace("-", "−")


def _drift_words(course: Course, by: By) -> str:
    drift = course.drift
    if drift is None:
        return f"fewer than {FEWEST_PERIODS} {by}s"
    if not drift.high - drift.low < _TOO_WIDE:
        return "cannot tell yet"
    decimals = _decimals(drift)
    return f"{_percent(drift.value, decimals)} ({_percent(drift.low, decimals)} to {_percent(drift.high, decimals)})"


def _fault(kind: str) -> str:
    return _FAULTS.get(kind, kind)


def _faults(season: Season) -> Block:
    rows = tuple(
        (capital(_fault(kind)), f"{number}", show_percent(number / season.tested))
        for kind, number in season.faults
    )
    note = "A cable with several kinds of fault stands in several rows."
    return table("Wrong at the first complete test", ("what", "cables", "of all"), rows, (1, 2), note)


def _periods(season: Season) -> Block:
    rows = tuple(
        (
            f"{one.start}", f"{one.tested}", f"{one.right}", f"{one.wrong}", f"{one.unsure}",
            f"{_percent(one.right / one.tested, 0)} ({_percent(one.low, 0)} to {_percent(one.high, 0)})",
        )
        for one in reversed(season.periods)
    )  # fmt: skip
    note = f"With {100 * COVERAGE:g} % intervals. Neither: to be looked at first, or too close to call."
    header = (f"{season.by} from", "tested", "right", "wrong", "neither", "right at once")
    return table(f"Cables by {season.by}, the last one first", header, rows, (1, 2, 3, 4, 5), note)


def _courses(title: str, courses: Sequence[Course], by: By) -> tuple[Block, ...]:
    rows = tuple(
        (one.name, f"{one.cables}", f"{one.wires}", f"{one.ratio:.3f}", _drift_words(one, by))
        for one in courses
    )
    header = (title.lower()[:-1], "cables", "wires", "ratio to expected", "change a month")
    told = table(f"{title} against what is expected", header, rows, (1, 2, 3, 4))
    drawn = [one for one in courses if len(one.medians) > 1][:MOST_LINES]
    return (_courses_figure(title, drawn, by), told) if drawn else (told,)


def _courses_figure(title: str, courses: Sequence[Course], by: By) -> LineFigure:
    first = min(one.medians[0][0] for one in courses)
    lines = tuple(
        Line(
            one.name,
            tuple(_since(start, first, by) for start, _ in one.medians),
            tuple(r for _, r in one.medians),
        )
        for one in courses
    )
    words = "; ".join(f"{one.name}: {one.ratio:.3f}" for one in courses)
    return LineFigure(
        f"season-{title.lower()}",
        f"Median ratio to the expected resistance by {by}. {words}.",
        f"What cables with each of them read against what is expected: medians by {by}. {capital(by)} 0 is that of {first}.",
        Axis(f"{by}s since {first}"),
        Axis("ratio to expected", least=_LEAST_RATIO),
        lines,
        threshold=1.0,
        threshold_words="as expected",
    )  # fmt: skip


def _right_figure(season: Season) -> LineFigure:
    periods, by = season.periods, season.by
    first = periods[0].start

    def line(of: Sequence[float]) -> tuple[float, ...]:
        return tuple(100 * share for share in of)

    shares = [one.right / one.tested for one in periods]
    across = tuple(_since(one.start, first, by) for one in periods)
    low, high = line([one.low for one in periods]), line([one.high for one in periods])
    worst: Period = min(periods, key=lambda one: one.right / one.tested)
    return LineFigure(
        "season-right",
        f"Share of cables that were right at the first complete test, by {by}; the least in that of {worst.start}: "
        f"{_percent(worst.right / worst.tested, 0)}.",
        f"How many of the cables of each {by} were right at once. {capital(by)} 0 is that of {first}.",
        Axis(f"{by}s since {first}"),
        Axis("right at once, %", least=10.0),
        (Line("right at once", across, line(shares), low, high),),
        band_words=f"{100 * COVERAGE:g} % interval",
    )  # fmt: skip


def _since(start: date, first: date, by: By) -> float:
    """Whole periods between."""
    if by == "month":
        return float(12 * (start.year - first.year) + start.month - first.month)
    return float((start - first).days // 7)
