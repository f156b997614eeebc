"""The service card of a built cable as one page."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.advice.cautions import CABLE_APART, SOLDERING
from ohmsworth.advice.keeping import KEEP_COILED, KEEP_DRY
from ohmsworth.inference.conformity import OPEN
from ohmsworth.report.cable_answer import LOOK, NOT_YET, RIGHT, WRONG
from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Subheading, Tone
from ohmsworth.report.papers.service_card import CablePaper, CableService, CableTest
from ohmsworth.report.papers.service_pages import (
    DONE,
    FOUND,
    KEEP,
    MOST_REMARKS,
    NEXT,
    NOW,
    Cautions,
    code_figure,
    history_blocks,
    page_of,
    rows_left,
)
from ohmsworth.report.papers.service_words import MOST_PEOPLE, NAME, NOTE, cut
from ohmsworth.report.words import count, listed

_TONES: dict[str, Tone] = {RIGHT: "good", WRONG: "bad", LOOK: "mixed", OPEN: "open", NOT_YET: "open"}
#: Faults that are told of one test; of more the number is.
_MOST_FAULTS = 4
_NOT_KNOWN = "When a cable is due again is not known here: test it again at the next service."
_MEND = "Now: it is wrong. Do not use it before it is mended and tested again."
EARLIER = "Earlier tests"


def cable_document(card: CableService, day: str) -> Document:
    """The page of a cable as of a day."""
    told = Cautions()
    name = cut(f"{card.name} {card.serial}".strip(), NAME)
    found = card.tests[-1] if card.tests else card.now
    blocks: list[Block] = [
        code_figure(card.serial, card.name, card.facts),
        Subheading(FOUND),
        *_found(found, first=len(card.tests) < 2),
        Subheading(DONE),
        *_done(card, told),
        Subheading(NOW),
        *_now(card),
        Subheading(NEXT),
        *_next(card, told),
        Subheading(KEEP),
        Paragraph(f"{KEEP_COILED} {KEEP_DRY}"),
    ]
    rows = tuple(
        (one.last, one.verdict, cut(" ".join(one.wrong) or "nothing", NOTE), _who(one.people) or "not known")
        for one in reversed(card.tests[:-1])
    )
    blocks += (
        history_blocks(EARLIER, ("day", "verdict", "what was wrong", "tested by"), rows, rows_left(blocks))
        if rows
        else (Subheading(EARLIER), Paragraph("None in the shop's records."))
    )
    return page_of(name, day, "Found, done, and as it is now", blocks)


def _found(test: CableTest | None, *, first: bool) -> tuple[Block, ...]:
    if test is None:
        return (Paragraph("No test of it is complete yet: how it was is not known."),)
    which = "At its first complete test" if first else "At the test before"
    told = Paragraph(f"{which}, {_when(test)}: {test.verdict}.")
    return (told, *_faults(test.wrong))


def _faults(wrong: Sequence[str]) -> tuple[Block, ...]:
    shown = tuple(cut(words, NOTE) for words in wrong[:_MOST_FAULTS])
    left = len(wrong) - len(shown)
    more = (f"{count(left, 'more fault')}: the shop's records hold them.",) if left else ()
    return (Bullets((*shown, *more)),) if shown else ()


def _when(test: CableTest) -> str:
    days = f"on {test.last}" if test.first == test.last else f"from {test.first} to {test.last}"
    who = _who(test.people)
    return f"{days}, by {who}" if who else f"{days}, by whom is not known"


def _who(people: Sequence[str]) -> str:
    return listed([cut(name, NAME // 2) for name in people], MOST_PEOPLE) if people else ""


def _done(card: CableService, told: Cautions) -> tuple[Block, ...]:
    """What was found before and no longer is, and what somebody wrote of it."""
    blocks: list[Block] = []
    before, now = (card.tests[-1] if card.tests else None), card.now
    gone = (
        [] if before is None or now is None else [words for words in before.wrong if words not in now.wrong]
    )
    if gone and now is not None:
        what = f"{count(len(gone), 'fault')} of those above {'was' if len(gone) == 1 else 'were'} mended"
        words = f"By the readings, {what}: measured again {_when(now)}. Who mended it, and how, is not written down."
        blocks += [Paragraph(words), *told.of((CABLE_APART, SOLDERING))]
    elif before is not None:
        blocks.append(
            Paragraph("It was measured again; that anything was mended is not seen by its readings.")
        )
    else:
        blocks.append(Paragraph("Nothing since it was built, as far as the records say."))
    notes = card.notes[:MOST_REMARKS]
    blocks += [Paragraph(f"Note: {cut(words, NOTE)}") for words in notes]
    if left := len(card.notes) - len(notes):
        blocks.append(Paragraph(f"{count(left, 'more note')} in the shop's records."))
    return tuple(blocks)


def _now(card: CableService) -> tuple[Block, ...]:
    headline = Headline(cut(card.sentence, 2 * NOTE), _TONES.get(card.verdict, "plain"), card.verdict)
    tested = [f"Tested {_when(card.now)}."] if card.now is not None else []
    told = " ".join((*tested, card.nearest, _paper_words(card.paper))).strip()
    since = () if card.tests else (Paragraph("Not measured again since."),) if card.now is not None else ()
    return (headline, Paragraph(told), *since)


def _next(card: CableService, told: Cautions) -> tuple[Block, ...]:
    if card.verdict == WRONG:
        return (Paragraph(_MEND), *told.of((CABLE_APART, SOLDERING)))
    return (Paragraph(_NOT_KNOWN), *told.of((CABLE_APART,)))


def _paper_words(paper: CablePaper | None) -> str:
    if paper is None:
        return "No certificate of it was issued."
    earlier = f" ({count(paper.earlier, 'earlier paper')} before it)" if paper.earlier else ""
    return f"Its latest paper: {paper.kind} {cut(paper.number, NAME)}, {paper.result}, issued on {paper.issued}{earlier}."
