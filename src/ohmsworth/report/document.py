"""What a report says, independent of how it is drawn: pages, paragraphs, tables and figures.

The text, HTML and PDF writers all draw this one document, so they cannot say different things.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

#: How something is meant; "mixed" is settled and neither good nor bad alone, "open" is not settled.
Tone = Literal["plain", "good", "mixed", "open", "bad", "warning", "caution"]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; `tone` says how it is meant (never by colour alone)."""

    text: str
    tone: Tone = "plain"


@dataclass(frozen=True, slots=True)
class Subheading:
    """A heading inside a section; the block after it stays with it in print."""

    text: str


@dataclass(frozen=True, slots=True)
class Headline:
    """The answer in a sentence, large, with a word that says which way it went.

    `verdict` is one of the product's verdict words, or "" when nothing is judged.
    """

    text: str
    tone: Tone = "plain"
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class Bullets:
    """A short list; `numbered` for steps, from `first` on."""

    items: tuple[str, ...]
    numbered: bool = False
    tone: Tone = "plain"
    first: int = 1


@dataclass(frozen=True, slots=True)
class Table:
    """A table; cells are ready text, `numeric` marks the columns set flush right, `writing` those to write into.

    A `small` one is set in small type: long lists that are looked up and not read. The column `of_readings` lists numbers of
    readings, which a page that has them can lead to.
    """

    caption: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numeric: tuple[int, ...] = ()
    note: str = ""
    writing: tuple[int, ...] = ()
    small: bool = False
    of_readings: int | None = None


#: Group of a contact that is not measured but asked about.
ASKED = "asked about"


@dataclass(frozen=True, slots=True)
class LadderMark:
    """One mark on the ladder: a value (ohm), perhaps an interval, and its words.

    `kind` is one of "contact" (measured, with interval), "limit", "wire" (equivalent length) or
    "threshold" (where a use starts to suffer). `group` is the use, the conductor, the state of a contact, or
    where the limit comes from; ASKED of a contact that is only asked about. Of a threshold, `position` says
    which contacts have the resistance, `harm` in a word or two what suffers ("hum", "heat"), and `serious`
    whether somebody can come to harm.
    """

    kind: Literal["contact", "limit", "wire", "threshold"]
    label: str
    group: str
    value: float
    low: float | None = None
    high: float | None = None
    note: str = ""
    position: str = ""
    harm: str = ""
    serious: bool = False


@dataclass(frozen=True, slots=True)
class LadderFigure:
    """The ladder: a logarithmic scale of resistance (ohm) with everything that matters marked on it."""

    name: str
    alt: str
    caption: str
    marks: tuple[LadderMark, ...]


@dataclass(frozen=True, slots=True)
class Dot:
    """One reading in the evidence figure (ohm); `flag` is "" or why it stands apart."""

    condition: str
    specimen: str
    value: float
    flag: str = ""


@dataclass(frozen=True, slots=True)
class ConditionMark:
    """The estimate of one condition (ohm) with its interval."""

    condition: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class PairLine:
    """One specimen measured under two conditions (ohm), drawn as a line between them."""

    specimen: str
    conditions: tuple[str, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class EvidenceFigure:
    """Readings as dots, the estimate and interval of each condition (named by `mark_words`), and the limit as a line."""

    name: str
    alt: str
    caption: str
    logarithmic: bool
    dots: tuple[Dot, ...]
    marks: tuple[ConditionMark, ...]
    pairs: tuple[PairLine, ...] = ()
    limit: float | None = None
    mark_words: str = "estimate with interval"


@dataclass(frozen=True, slots=True)
class ShareFigure:
    """Horizontal bars: each source's share (0 to 1) of a variance, largest first."""

    name: str
    alt: str
    caption: str
    labels: tuple[str, ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Axis:
    """What one axis shows: words, the unit of its numbers (a prefix is chosen where it may have one).

    It spans at least `least`, so that small differences look small: from end to end on an even axis (in `unit`),
    as the ratio of its ends on a logarithmic one. Only line figures heed it.
    """

    label: str
    unit: str = ""
    logarithmic: bool = False
    least: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A named line through points, perhaps in a band from `low` to `high`, one pair a point.

    A value that is not finite leaves a gap, as does a band where either end is no number; an infinite end runs out of
    the picture. The `ideal` line is what the others are held against.
    """

    label: str
    across: tuple[float, ...]
    up: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()
    ideal: bool = False


@dataclass(frozen=True, slots=True)
class PointMark:
    """A point of a line picture that the text speaks of, with its words."""

    label: str
    across: float
    up: float


@dataclass(frozen=True, slots=True)
class LineFigure:
    """Lines over any quantity, each named where it ends; perhaps points with words, and a horizontal threshold with its.

    `band_words` say what lies within the bands of the lines, such as "95 % of contacts".
    """

    name: str
    alt: str
    caption: str
    across: Axis
    up: Axis
    lines: tuple[Line, ...]
    marks: tuple[PointMark, ...] = ()
    threshold: float | None = None
    threshold_words: str = "threshold"
    band_words: str = ""


@dataclass(frozen=True, slots=True)
class ChartSeries:
    """What a control chart follows, one value a check; `flags` are "" or why a check stands out.

    A value that is not finite leaves a gap.
    """

    label: str
    values: tuple[float, ...]
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChartLine:
    """The centre or a limit of a control chart, one value a check."""

    kind: Literal["centre", "limit"]
    label: str
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ChartFigure:
    """A control chart: checks in order, with their centre line and limits.

    `checks` names each check (its date); the `first` of them set the limits.
    """

    name: str
    alt: str
    caption: str
    up: Axis
    checks: tuple[str, ...]
    series: tuple[ChartSeries, ...]
    lines: tuple[ChartLine, ...]
    first: int = 0


@dataclass(frozen=True, slots=True)
class IntervalMark:
    """One value with its interval, in a row of its own; `flag` is "" or how it stands out."""

    group: str
    label: str
    value: float
    low: float
    high: float
    flag: str = ""


@dataclass(frozen=True, slots=True)
class IntervalFigure:
    """Values with their intervals, one below the other, about a line at `middle`."""

    name: str
    alt: str
    caption: str
    across: Axis
    marks: tuple[IntervalMark, ...]
    middle: float


@dataclass(frozen=True, slots=True)
class WiredPart:
    """A part in the row of a wiring drawing, with its value in words; `input_name` is what its sense leads go to, or ""."""

    name: str
    value: str
    kind: Literal["resistor", "contact"] = "resistor"
    input_name: str = ""


@dataclass(frozen=True, slots=True)
class WiringFigure:
    """What is connected with what: from an output through a row of parts and back, inputs at the sense leads of some.

    `output` is what drives the row, `back` where it returns to; `bridge` lies across all parts that have sense leads, or with
    `across_row` across the whole row. A part's sense leads are drawn inside of the joints that carry the current.
    """

    name: str
    alt: str
    caption: str
    output: str
    back: str
    row: tuple[WiredPart, ...]
    bridge: WiredPart | None = None
    across_row: bool = False


@dataclass(frozen=True, slots=True)
class CableWireMark:
    """A wire of a cable drawing, from contact to contact; `flag` is "" or what is wrong, `broken` that it has no path."""

    name: str
    start: str
    stop: str
    flag: str = ""
    broken: bool = False


@dataclass(frozen=True, slots=True)
class CablePlaceMark:
    """A place along a cable, metre from its first end, with its interval."""

    label: str
    metres: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CableFigure:
    """A cable: its wires from contact to contact, and places along its `length` (metre); `stops` are contacts in their order."""

    name: str
    alt: str
    caption: str
    wires: tuple[CableWireMark, ...]
    stops: tuple[str, ...]
    length: float
    places: tuple[CablePlaceMark, ...] = ()


@dataclass(frozen=True, slots=True)
class CodeFigure:
    """A QR code that holds `content`, and beside it `lines` for those who read without a machine; the first is set bold."""

    name: str
    alt: str
    caption: str
    content: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReelPiece:
    """So many pieces of one length (metre) side by side on a reel, and what they are for."""

    number: int
    length: float
    label: str


@dataclass(frozen=True, slots=True)
class ReelBar:
    """A reel with what is cut from it, metre; the rest is `kept` or scrap."""

    group: str
    name: str
    length: float
    pieces: tuple[ReelPiece, ...]
    left: float
    kept: bool


@dataclass(frozen=True, slots=True)
class ReelFigure:
    """Reels as bars, those of a wire below its name and on one scale of length."""

    name: str
    alt: str
    caption: str
    reels: tuple[ReelBar, ...]


Figure = (
    LadderFigure
    | EvidenceFigure
    | ShareFigure
    | LineFigure
    | ChartFigure
    | IntervalFigure
    | WiringFigure
    | CableFigure
    | CodeFigure
    | ReelFigure
)
Block = Paragraph | Subheading | Headline | Bullets | Table | Figure


@dataclass(frozen=True, slots=True)
class Section:
    """A titled run of blocks; `own_page` starts a new page in print."""

    title: str
    blocks: tuple[Block, ...]
    own_page: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report: `sections[0]` is the page for the customer."""

    title: str
    subtitle: str
    language: str
    footer: str
    sections: tuple[Section, ...]
