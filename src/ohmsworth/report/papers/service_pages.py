"""The service card as one page: what it is, what was found, what was done, how it is now, when to look again, how to keep it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ohmsworth.advice.cautions import UNPOWERED
from ohmsworth.advice.keeping import EXERCISE, keeping_words
from ohmsworth.advice.remedies import remedy_cautions
from ohmsworth.inference.conformity import OPEN, OVER, WITHIN
from ohmsworth.report.document import (
    Block,
    Bullets,
    CodeFigure,
    Document,
    Headline,
    Paragraph,
    Section,
    Subheading,
    Tone,
)
from ohmsworth.report.papers.service_card import Service, SpecimenService
from ohmsworth.report.papers.service_words import (
    FACT,
    MOST_STEPS,
    NAME,
    NOTE,
    beside_words,
    cell_words,
    course_words,
    cut,
    day_of,
    measure_words,
    step_sentence,
    steps_in_short,
)
from ohmsworth.report.tables import table
from ohmsworth.report.words import capital, count

#: Earlier services that have a row; of more the number is told.
MOST_ROWS = 5
#: What fits a page in small type: lines, letters of a line, lines of the code and of a row, which may break once.
_PAGE_LINES, _LINE, _CODE_LINES, _ROW_LINES = 58.0, 95, 8.0, 2.0
#: Facts beside the code, and remarks.
MOST_FACTS, MOST_REMARKS = 6, 2
TONES: dict[str, Tone] = {WITHIN: "good", OVER: "bad", OPEN: "open"}
FOUND, DONE, NOW = "What was found", "What was done", "What it measures now"
NEXT, KEEP = "When to look at it next", "How to keep it"
EARLIER = "Earlier services and readings"
PLUS_MINUS = "± is one standard uncertainty."


def specimen_document(card: SpecimenService, day: str) -> Document:
    """The page of a specimen as of a day."""
    told = Cautions()
    name = cut(f"{card.serial} – {card.what}" if card.what else card.serial, NAME)
    blocks: list[Block] = [
        code_figure(card.serial, card.what, card.facts),
        Subheading(FOUND),
        *_found(card),
        Subheading(DONE),
        *_done(card.service, told),
        Subheading(NOW),
        *_now(card),
        Subheading(NEXT),
        *(Paragraph(cut(words, 2 * NOTE)) for words in card.next_look),
        *told.of((UNPOWERED,)),
        Subheading(KEEP),
        *keep_blocks(keeping_words(card.plating), told),
        *remark_blocks(card.remarks),
    ]
    blocks += _earlier(card.earlier, rows_left(blocks))
    return page_of(name, day, "Found, done, and as it is now", blocks)


def page_of(name: str, day: str, title: str, blocks: Sequence[Block]) -> Document:
    """One page, with the day on which it was written."""
    told = f"Written on {day} from the shop's records. Keep it beside the piece. {PLUS_MINUS}"
    return Document(
        f"Service card: {name}",
        told,
        "en",
        f"Service card of {name}, {day}",
        (Section(title, tuple(blocks)),),
    )


class Cautions:
    """Cautions below the step that they belong to, each once on a page."""

    def __init__(self) -> None:
        self.told: set[str] = set()

    def of(self, cautions: Sequence[str]) -> tuple[Block, ...]:
        """Those that were not told yet."""
        new = tuple(one for one in dict.fromkeys(cautions) if one not in self.told)
        self.told |= set(new)
        return (Bullets(new, tone="caution"),) if new else ()


def without_code(document: Document) -> Document:
    """What fits a terminal, where no code can be read: the words beside it in its place."""

    def block(one: Block) -> Block:
        return Bullets(one.lines) if isinstance(one, CodeFigure) else one

    sections = (replace(part, blocks=tuple(map(block, part.blocks))) for part in document.sections)
    return replace(document, sections=tuple(sections))


def code_figure(serial: str, what: str, facts: Sequence[tuple[str, str]]) -> CodeFigure:
    """The serial as a code, and beside it what the piece is."""
    lines = [cut(words, NAME) for words in (serial, what) if words]
    lines += [f"{label}: {cut(words, FACT)}" for label, words in facts[:MOST_FACTS]]
    content = f"serial {serial}" if serial else cut(what, NAME)
    alt = f"A code that a telephone reads: {content}."
    return CodeFigure("serial", alt, "", content, tuple(lines))


def _found(card: SpecimenService) -> tuple[Block, ...]:
    found = card.service.found
    if found is None:
        return (Paragraph("It was not measured before: how it was is not known."),)
    return (Paragraph(f"{measure_words(found, card.limit)} {beside_words(found)}"),)


def _done(service: Service, told: Cautions) -> tuple[Block, ...]:
    if not service.steps:
        return (Paragraph("Nothing, as far as the records say."),)
    blocks: list[Block] = []
    left = max(len(service.steps) - MOST_STEPS, 0)
    if left:
        blocks.append(
            Paragraph(f"{capital(count(left, 'step'))} before these: the shop's records hold them.")
        )
    for number, step in enumerate(service.steps[left:], start=left + 1):
        before = f"{number}. " if len(service.steps) > 1 else ""
        blocks.append(Paragraph(f"{before}{step_sentence(step)}"))
        blocks += told.of(remedy_cautions(step.what))
    return tuple(blocks)


def _now(card: SpecimenService) -> tuple[Block, ...]:
    now, after = card.now, card.service.after
    if now is None:
        since = day_of(card.service)
        words = "Not measured again since." if since == "–" else f"Not measured again since {since}."
        return (Headline(f"{words} What it reads now is not known.", "open", "not measured again"),)
    tone: Tone = TONES.get(now.verdict, "plain")
    headline = Headline(measure_words(now, card.limit), tone, now.verdict if now.verdict in TONES else "")
    blocks: list[Block] = [
        headline,
        Paragraph(" ".join(filter(None, (beside_words(now), course_words(card.course))))),
    ]
    if after is not None and after != now:
        blocks.append(Paragraph(f"Right after it was treated: {measure_words(after, card.limit)}"))
    return tuple(blocks)


def keep_blocks(words: Sequence[str], told: Cautions) -> tuple[Block, ...]:
    """How to keep it, and what to mind where it is to be mated."""
    return (Paragraph(" ".join(words)), *(told.of((UNPOWERED,)) if EXERCISE in words else ()))


def remark_blocks(remarks: Sequence[str]) -> tuple[Block, ...]:
    """What else is to be known."""
    told = tuple(Paragraph(cut(words, 2 * NOTE)) for words in remarks[:MOST_REMARKS])
    left = len(remarks) - len(told)
    return (*told, Paragraph(f"And {count(left, 'more remark')} in the shop's records.")) if left else told


def _earlier(earlier: Sequence[Service], room: int) -> tuple[Block, ...]:
    if not earlier:
        return (Subheading(EARLIER), Paragraph("None in the shop's records."))
    rows = tuple(
        (day_of(one), cell_words(one.found), steps_in_short(one), cell_words(one.after)) for one in earlier
    )
    return history_blocks(EARLIER, ("day", "found", "what was done", "afterwards"), rows, room)


def history_blocks(
    caption: str, header: tuple[str, ...], rows: tuple[tuple[str, ...], ...], room: int
) -> tuple[Block, ...]:
    """As many of the last rows as there is room for, and how many more there are from when to when; the day stands first."""
    shown, left = rows[:room], rows[room:]
    span = f"from {left[-1][0]} to {left[0][0]}" if len(left) > 1 else f"of {left[0][0]}" if left else ""
    ones = count(len(left), "earlier one")
    note = (
        f"{f'And {ones}' if shown else capital(ones)}, {span}: the shop's records hold them." if left else ""
    )
    if not shown:
        return (Subheading(caption), Paragraph(note))
    return (replace(table(caption, header, shown, note=note), small=True),)


def rows_left(blocks: Sequence[Block]) -> int:
    """Rows that still fit the page below `blocks`, when its text and its code are set as small as they may be."""
    used = sum(map(_lines, blocks))
    return max(min(MOST_ROWS, int((_PAGE_LINES - used) / _ROW_LINES)), 0)


def _lines(block: Block) -> float:
    """About how many lines of text a block takes."""
    if isinstance(block, Headline):
        return 3.0 + 1.4 * _wrapped(block.text, 60)
    if isinstance(block, Bullets):
        return 2.2 + sum(_wrapped(item, _LINE) for item in block.items)
    if isinstance(block, Paragraph):
        return 0.4 + _wrapped(block.text, _LINE)
    return 1.7 if isinstance(block, Subheading) else _CODE_LINES


def _wrapped(text: str, width: int) -> int:
    return max(-(-len(text) // width), 1)
