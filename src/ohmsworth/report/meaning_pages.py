"""What resistances mean, as a document: the ladder first, then circuit by circuit."""

from __future__ import annotations

from ohmsworth.materials import REFERENCE_TEMPERATURE
from ohmsworth.report.document import (
    ASKED,
    Block,
    Bullets,
    Document,
    Headline,
    LadderFigure,
    LadderMark,
    Section,
)
from ohmsworth.report.ladder import ladder_table, threshold_marks, wire_marks
from ohmsworth.report.meaning import MeaningAnswer
from ohmsworth.report.tables import sources_table
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.report.use_pages import band_tables, use_blocks, use_tables
from ohmsworth.report.use_settings import settings_table
from ohmsworth.report.words import capital

#: A wire that everybody in the trade has in hand.
_WIRE = "0.22 mm²"
_TITLE = "What a milliohm is worth"


def meaning_ladder(answer: MeaningAnswer) -> LadderFigure:
    """Every threshold of every use on one scale, and the resistances asked about."""
    marks = [LadderMark("contact", "each contact", ASKED, one.resistance) for one in answer.asked]
    marks += wire_marks(_WIRE, REFERENCE_TEMPERATURE)
    marks += [mark for use in answer.uses for mark in threshold_marks(use)]
    return LadderFigure("ladder", answer.sentence, _caption(answer), tuple(marks))


def _caption(answer: MeaningAnswer) -> str:
    asked = " and the resistances asked about" if answer.asked else ""
    return (
        f"How bad would a contact have to be? On one scale: where each use begins to suffer{asked}. "
        "Each step is ten times the one before."
    )


def meaning_report(answer: MeaningAnswer) -> Document:
    """The whole report."""
    return Document(
        title=_TITLE,
        subtitle="What contact resistances do in circuits, and how bad they would have to be",
        language="en",
        footer="Made with Ohmsworth; circuits as stated in this report.",
        sections=(
            Section("The answer", _first_page(answer, _IN_REPORT)),
            Section("Every threshold", (ladder_table(meaning_ladder(answer)),), own_page=True),
            *(_circuit(use, _names(answer)) for use in answer.uses),
            Section("Sources", (sources_table(answer.sources),)),
        ),
    )


def meaning_page(answer: MeaningAnswer, every: bool) -> Document:
    """What a page on a screen says: the ladder before its words, and `every` circuit with what its contacts do in it.

    The values of the circuits are left out: there they stand in the fields in which they are changed.
    """
    first = _first_page(answer, _IN_REPORT if every else _ON_PAGE)
    ladder = tuple(block for block in first if isinstance(block, LadderFigure))
    words = tuple(block for block in first if not isinstance(block, LadderFigure))
    names = _names(answer)
    circuits = tuple(
        Section(capital(use.name), (*use_blocks(use, names), *band_tables(use, names)))
        for use in (answer.uses if every else ())
    )
    return Document(
        _TITLE,
        "",
        "en",
        "",
        (
            Section("The ladder", (*ladder, *words)),
            Section("How bad would it have to be?", (ladder_table(ladder[0]),)),
            *circuits,
            Section("Sources", (sources_table(answer.sources),)),
        ),
    )


def meaning_summary(answer: MeaningAnswer) -> Document:
    """What fits a terminal: the answer and the ladder; of few uses also what the contacts do."""
    names, few = _names(answer), answer.uses if len(answer.uses) <= _FEW else ()
    tables = [table for use in few for table in (*use_tables(use, names), *band_tables(use, names))]
    return Document(
        _TITLE, "", "en", "", (Section("The answer", (*_first_page(answer, _IN_TERMINAL), *tables)),)
    )


#: Of so many uses a terminal also shows what the contacts do.
_FEW = 2
_BESIDE = "Unpowered and disconnected equipment only. What else can hurt at work on each circuit"
#: Where that is told.
_IN_REPORT, _IN_TERMINAL = "stands beside it in this report.", "is told where it is named with --use."
_ON_PAGE = "is told on its own page."


def _names(answer: MeaningAnswer) -> list[str]:
    return [one.name for one in answer.asked]


def _circuit(use: UseAnswer, names: list[str]) -> Section:
    """One circuit with all that was asked about it."""
    blocks = (*use_blocks(use, names), *band_tables(use, names), settings_table(use))
    return Section(capital(use.name), blocks)


def _first_page(answer: MeaningAnswer, place: str) -> tuple[Block, ...]:
    cautions = _first_cautions(answer, place)
    blocks: list[Block] = [Headline(answer.sentence)]
    if answer.findings:
        blocks.append(Bullets(answer.findings))
    blocks.append(meaning_ladder(answer))
    if cautions:
        blocks.append(Bullets(cautions, tone="caution"))
    return tuple(blocks)


def _first_cautions(answer: MeaningAnswer, place: str) -> tuple[str, ...]:
    """All cautions of few uses; of many the first of those that need a licence, for every use has its own beside it."""
    if len(answer.uses) <= _FEW:
        return tuple(dict.fromkeys(caution for use in answer.uses for caution in use.cautions))
    foremost = [use.cautions[0] for use in answer.uses if use.proviso and use.cautions]
    beside = [f"{_BESIDE} {place}"] if any(use.cautions for use in answer.uses) else []
    return (*dict.fromkeys(foremost), *beside)
