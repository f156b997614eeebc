"""The document as plain text for a terminal: no colour, no control codes, columns that line up."""

from __future__ import annotations

from ohmsworth.adapters.render.charts import figure_note
from ohmsworth.adapters.render.clean import clean
from ohmsworth.adapters.render.content import TONE_SIGNS, TONE_WORDS
from ohmsworth.adapters.render.measure import columns, wrap_columns
from ohmsworth.adapters.render.text_ladder import ladder_lines
from ohmsworth.adapters.render.text_table import table_lines
from ohmsworth.report.document import (
    Block,
    Bullets,
    Document,
    Figure,
    Headline,
    LadderFigure,
    Paragraph,
    Section,
    Subheading,
    Table,
    Tone,
)


def to_text(document: Document, width: int = 100) -> str:
    """`document` as lines of at most `width` columns (tables of many columns may need more)."""
    page = clean(document)
    lines = [*wrap_columns(page.title, width), *_unless_empty(page.subtitle, width)]
    lines.append("=" * min(max((columns(line) for line in lines), default=1), width))
    for section in page.sections:
        lines += ["", *_section(section, width)]
    if page.footer:
        lines += ["", "-" * min(width, 40), *wrap_columns(page.footer, width)]
    # A terminal breaks no lines of its own; a no-break space would only trip up whoever copies a number.
    return "\n".join(line.rstrip() for line in lines).replace("\u00a0", " ") + "\n"


def _unless_empty(text: str, width: int) -> list[str]:
    return wrap_columns(text, width) if text else []


def _section(section: Section, width: int) -> list[str]:
    title = wrap_columns(section.title, width)
    lines = [*title, "-" * max(columns(line) for line in title)]
    for block in section.blocks:
        lines += ["", *_block(block, width)]
    return lines


def _block(block: Block, width: int) -> list[str]:
    if isinstance(block, Paragraph):
        return _hung(_lead(block.tone), block.text, width)
    if isinstance(block, Subheading):
        return wrap_columns(block.text, width)
    if isinstance(block, Headline):
        return _headline(block, width)
    if isinstance(block, Bullets):
        return _bullets(block, width)
    if isinstance(block, Table):
        return table_lines(block, width)
    return _figure(block, width)


def _lead(tone: Tone) -> str:
    word, sign = TONE_WORDS.get(tone), TONE_SIGNS.get(tone, "")
    return f"{word.upper()}: " if word else sign and f"{sign} "


def _hung(lead: str, text: str, width: int) -> list[str]:
    """`text` after `lead`, later lines indented to match (words of warning only a little)."""
    indent = " " * min(columns(lead), 4)
    first, *rest = wrap_columns(lead + text, width)
    return [first, *(indent + line for line in wrap_columns(" ".join(rest), width - len(indent)) if line)]


def _headline(block: Headline, width: int) -> list[str]:
    """The verdict in capitals between brackets, the answer below it behind a bar."""
    sign = TONE_SIGNS.get(block.tone, "")
    words = f"[ {f'{sign} ' if sign else ''}{block.verdict.upper()} ]"
    verdict = [*wrap_columns(words, width - 2), ""] if block.verdict else []
    return [f"| {line}" for line in [*verdict, *wrap_columns(block.text, width - 2)]]


def _bullets(block: Bullets, width: int) -> list[str]:
    word = TONE_WORDS.get(block.tone)
    lines = [f"{word.upper()}:"] if word else []
    for number, item in enumerate(block.items, start=block.first):
        lead = f"{number:>2}. " if block.numbered else "  - "
        first, *rest = wrap_columns(item, width - len(lead))
        lines += [lead + first, *(" " * len(lead) + line for line in rest)]
    return lines


def _figure(block: Figure, width: int) -> list[str]:
    caption = wrap_columns(f"Figure: {block.caption}", width)
    if isinstance(block, LadderFigure):
        return [*caption, "", *ladder_lines(block, width)]
    words = " ".join(part for part in (block.alt, figure_note(block)) if part)
    return [*caption, *(f"  {line}" for line in wrap_columns(words, width - 2))]
