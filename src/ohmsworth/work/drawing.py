"""What draws a report for a page, and takes circuits from a form: the port of the pages to the writers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, NoReturn, Protocol

from ohmsworth.errors import OutputFault
from ohmsworth.materials import Construction
from ohmsworth.readings.study import UseRequest
from ohmsworth.report.document import Document

if TYPE_CHECKING:
    from ohmsworth.consequence.twoport import OnePort, TwoPort


class DrawFragment(Protocol):
    """Draws the sections of a document as HTML for the inside of a page."""

    def __call__(
        self,
        document: Document,
        link_of: Callable[[str], str],
        level: int = 2,
        anchors: tuple[str, ...] = (),
        later: Callable[[str], str] | None = None,
        reading_at: Callable[[int], str] | None = None,
    ) -> str:
        """`link_of` gives the address of a picture's file by its name; sections have headings of `level`, ids `anchors`.

        `later` gives the address of a drawing that the page fetches when it is looked at, "" for one that is drawn at once.
        `reading_at` gives the address of a reading by its number, "" for none.
        """


class FillUse(Protocol):
    """Makes a circuit of what was filled in; raises InputRefused whose faults end with "key 'name'" of the field."""

    def __call__(
        self, kind: str, values: Mapping[str, str], own_cables: Sequence[Construction] = ()
    ) -> UseRequest:
        """`values` by key as people write them, with units; keys that are left out are as by default."""

    def __hash__(self) -> int:
        """As of any function: what it has made can be kept."""


class WriteTouchstone(Protocol):
    """Writes a network as a file."""

    def __call__(
        self,
        network: OnePort | TwoPort,
        reference: float | tuple[float, float] = 50.0,
        remarks: tuple[str, ...] = (),
    ) -> bytes:
        """`reference` in ohm, `remarks` in plain characters."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """The writers that the pages call.

    Parameters
    ----------
    fragment
        A document for the inside of a page.
    inline
        One drawing of a document by its name ("ladder.svg") for the inside of a page; None where there is none.
    picture
        One file of a document's pictures by its name ("ladder.svg"); None where the document has none of that name.
    style
        The style sheet of fragments.
    html, pdf
        A document as a file.
    touchstone
        A network as a file.
    use
        A circuit out of a form.
    """

    fragment: DrawFragment
    inline: Callable[[Document, str], str | None]
    picture: Callable[[Document, str], bytes | None]
    style: Callable[[], str]
    html: Callable[[Document], str]
    pdf: Callable[[Document, datetime], bytes]
    touchstone: WriteTouchstone
    use: FillUse


#: How pictures are sent.
MEDIA_TYPES = {"svg": "image/svg+xml", "png": "image/png", "csv": "text/csv; charset=utf-8"}


def _undrawn(*_: object, **__: object) -> NoReturn:
    raise OutputFault(
        "This bench was started without what draws its reports. Start it with 'ohmsworth serve'."
    )


#: For a bench that shows no reports.
NO_DRAWING = Drawing(_undrawn, _undrawn, _undrawn, _undrawn, _undrawn, _undrawn, _undrawn, _undrawn)
