"""Adapters that write documents as text, pages, PDF and pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ohmsworth.wiring.folders import as_touchstone, filled_use

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime
    from pathlib import Path

    from ohmsworth.report.document import Document
    from ohmsworth.work.drawing import Drawing


def as_text(document: Document, width: int) -> str:
    """The document for a terminal."""
    from ohmsworth.adapters.render import to_text

    return to_text(document, width)


def as_html(document: Document, data: str = "") -> str:
    """The document as one self-contained page, perhaps with JSON inside."""
    from ohmsworth.adapters.render import to_html

    return to_html(document, data)


def as_pdf(document: Document, timestamp: datetime, data: str = "") -> bytes:
    """The document as a tagged PDF, perhaps with JSON inside; made in another process where one was started."""
    from ohmsworth.adapters.render import Attached, apart, to_pdf

    return apart(to_pdf, document, timestamp, Attached("data.json", data) if data else None)


def as_pictures(document: Document) -> tuple[tuple[str, bytes], ...]:
    """Every figure of the document as files: name and content of its drawing, its picture and its numbers."""
    from ohmsworth.adapters.render import picture_files

    return picture_files(document)


def as_fragment(
    document: Document,
    link_of: Callable[[str], str],
    level: int = 2,
    anchors: tuple[str, ...] = (),
    later: Callable[[str], str] | None = None,
    reading_at: Callable[[int], str] | None = None,
) -> str:
    """The document for the inside of a page."""
    from ohmsworth.adapters.render import to_fragment

    return to_fragment(document, link_of, level, anchors, later, reading_at)


def as_inline(document: Document, name: str) -> str | None:
    """One drawing of the document for the inside of a page; None where there is none called `name`."""
    from ohmsworth.adapters.render import to_inline

    return to_inline(document, name)


def as_picture(document: Document, name: str) -> bytes | None:
    """The file `name`, such as "ladder.svg", of the document's pictures; None where there is none."""
    from ohmsworth.adapters.render import named_file

    return named_file(document, name)


def report_style() -> str:
    """The style sheet of fragments."""
    from ohmsworth.adapters.render import report_style as style

    return style()


def typeface_folder() -> Path:
    """Where the files of the typeface stand; found beside the writers without loading them."""
    from importlib.util import find_spec
    from pathlib import Path

    found = find_spec("ohmsworth.adapters.render")
    assert found is not None and found.origin is not None
    return Path(found.origin).parent / "fonts"


def drawing() -> Drawing:
    """The writers for pages."""
    from ohmsworth.work.drawing import Drawing

    return Drawing(
        as_fragment, as_inline, as_picture, report_style, as_html, as_pdf, as_touchstone, filled_use
    )


def draw_apart() -> None:
    """Have everything that takes long to draw done in another process from now on."""
    from ohmsworth.adapters.render import load_engine, start_worker

    start_worker(load_engine)


def warm_up() -> None:
    """Load what answers and reports need, so that nobody waits for it with the first answer."""
    import ohmsworth.adapters.files
    import ohmsworth.adapters.render
    import ohmsworth.work.answer_study
    import ohmsworth.work.report_study  # noqa: F401
