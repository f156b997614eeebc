"""The document as an archivable, tagged PDF: data go to the typesetter as JSON, never as markup."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Any, Literal

from ohmsworth.adapters.render.charts import to_svg
from ohmsworth.adapters.render.clean import clean, map_texts
from ohmsworth.adapters.render.content import content_of
from ohmsworth.adapters.render.palette import FONT_FOLDER, TEMPLATE_FOLDER
from ohmsworth.errors import ArgumentFault, OutputFault
from ohmsworth.report.document import Document, Figure

#: What stands for a character that the vendored typeface does not hold.
MISSING = "\u25a1"


@dataclass(frozen=True, slots=True)
class Attached:
    """A file inside the PDF, for programs: its name and its text, which is JSON."""

    name: str
    text: str


def to_pdf(document: Document, timestamp: datetime, attached: Attached | None = None) -> bytes:
    """`document` as PDF/A-2a and PDF/UA-1; the same document and `timestamp` give the same bytes.

    With a file inside it is PDF/A-3a, the kind for archives that may hold one.

    Parameters
    ----------
    document
        What to set. Its first section is made to fit one page where shrinking its figures can do that.
    timestamp
        When the document was made, with its time zone.
    attached
        A file to carry.

    Raises
    ------
    ArgumentFault
        For a `timestamp` without a time zone.
    OutputFault
        When the typesetter refuses or warns.
    """
    if timestamp.tzinfo is None:
        raise ArgumentFault("timestamp", timestamp.isoformat(), "a time with its time zone")
    kind: Literal["a-2a", "a-3a"] = "a-2a" if attached is None else "a-3a"
    return _typeset(to_typesetter(document, attached), timestamp.replace(microsecond=0), kind)


def to_typesetter(document: Document, attached: Attached | None = None) -> str:
    """What the typesetter's template is given, as JSON."""
    page = content_of(map_texts(clean(document), shown), _drawing)
    language, _, region = page["language"].partition("-")
    page |= {"lang": language.lower(), "region": region.upper() if len(region) == 2 else None}
    page["attached"] = None if attached is None else {"name": attached.name, "text": attached.text}
    return json.dumps(page, ensure_ascii=False)


def _drawing(figure: Figure, key: str) -> dict[str, Any]:
    return {"svg": to_svg(figure, key)}


def _typeset(content: str, timestamp: datetime, kind: Literal["a-2a", "a-3a"]) -> bytes:
    import typst

    try:
        pdf, warnings = typst.compile_with_warnings(
            str(TEMPLATE_FOLDER / "report.typ"),
            root=str(TEMPLATE_FOLDER),
            font_paths=[str(FONT_FOLDER)],
            ignore_system_fonts=True,
            sys_inputs={"content": content},
            format="pdf",
            pdf_standards=[kind, "ua-1"],
            timestamp=timestamp,
        )
    except typst.TypstError as error:
        raise OutputFault(f"The PDF could not be set: {error.message}") from error
    if warnings:
        raise OutputFault(f"The PDF was set with a warning: {warnings[0].message}")
    return pdf


def shown(text: str) -> str:
    """`text` with a box in the place of each character that the typeface lacks."""
    held = _characters()
    return "".join(letter if letter in held else MISSING for letter in text)


@lru_cache(maxsize=1)
def _characters() -> frozenset[str]:
    """The characters that the vendored typeface holds, from the list beside it."""
    held: set[str] = set()
    for line in (FONT_FOLDER / "ranges.txt").read_text(encoding="ascii").split():
        first, _, last = line.partition("-")
        held.update(map(chr, range(int(first, 16), int(last or first, 16) + 1)))
    return frozenset(held)
