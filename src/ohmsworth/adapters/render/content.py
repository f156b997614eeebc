"""The document as plain dicts, the one form from which both the HTML and the PDF template draw."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from typing import Any

from ohmsworth.adapters.render.charts import figure_note
from ohmsworth.report.document import Block, Bullets, Document, Figure, Headline, Paragraph, Subheading, Table

#: What stands before a text so that its tone is read and not only seen in colour.
TONE_WORDS = {"warning": "Warning", "caution": "Caution"}
#: The sign beside a verdict of each tone.
TONE_SIGNS = {"good": "✓", "mixed": "!", "bad": "✗", "open": "?", "warning": "!", "caution": "!"}

_KINDS = {
    Paragraph: "paragraph",
    Subheading: "subheading",
    Headline: "headline",
    Bullets: "bullets",
    Table: "table",
}


def content_of(
    document: Document, drawing_of: Callable[[Figure, str], dict[str, Any]], prefix: str = ""
) -> dict[str, Any]:
    """`document` as nested dicts and lists.

    Parameters
    ----------
    document
        Already cleaned.
    drawing_of
        Called with each figure and a key unique in the document; what it returns joins the figure's dict.
    prefix
        Begins every key, so that several documents can share a page.
    """
    sections = []
    for number, section in enumerate(document.sections, start=1):
        blocks = [
            _block(b, f"{prefix}{number}-{k}", drawing_of) for k, b in enumerate(section.blocks, start=1)
        ]
        sections.append({"title": section.title, "own_page": section.own_page, "blocks": blocks})
    return {
        "title": document.title,
        "subtitle": document.subtitle,
        "language": language_of(document),
        "footer": document.footer,
        "sections": sections,
    }


def language_of(document: Document) -> str:
    """The document's language tag, or English when what is given is no language tag."""
    given = document.language
    return given if re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8})*", given) else "en"


def _block(block: Block, key: str, drawing_of: Callable[[Figure, str], dict[str, Any]]) -> dict[str, Any]:
    if isinstance(block, Paragraph | Subheading | Headline | Bullets | Table):
        tone = getattr(block, "tone", "plain")
        words = {"word": TONE_WORDS.get(tone, ""), "sign": TONE_SIGNS.get(tone, "")}
        parts = dataclasses.asdict(_squared(block) if isinstance(block, Table) else block)
        return {"kind": _KINDS[type(block)], **parts, **words}
    note = figure_note(block)
    caption = _closed(block.caption) if note else block.caption
    shared = {"name": block.name, "alt": block.alt, "caption": caption, "note": note}
    return {"kind": "figure", "key": key, **shared, **drawing_of(block, key)}


def _closed(caption: str) -> str:
    """`caption` as a sentence that another can follow."""
    return caption if not caption or caption.endswith((".", "?", "!", ":")) else f"{caption}."


def _squared(table: Table) -> Table:
    """`table` with as many cells in every row as in the longest, so that no cell slips into another row."""
    wide = max([len(table.header), *(len(row) for row in table.rows)])
    rows = tuple(row + ("",) * (wide - len(row)) for row in table.rows)
    return dataclasses.replace(table, header=table.header + ("",) * (wide - len(table.header)), rows=rows)
