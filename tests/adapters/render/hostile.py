"""A report in which every text tries to be something else than text."""

from ohmsworth.report.document import (
    Axis,
    Bullets,
    ConditionMark,
    Document,
    Dot,
    EvidenceFigure,
    Headline,
    IntervalFigure,
    IntervalMark,
    LadderFigure,
    LadderMark,
    Line,
    LineFigure,
    PairLine,
    Paragraph,
    PointMark,
    Section,
    ShareFigure,
    Subheading,
    Table,
    WiredPart,
    WiringFigure,
)

#: Short enough to stay on one line wherever it is drawn, so that it can be looked for whole.
MARKUP = "<b>&amp;\"'[x]#let$x$@y`c`*s*_u_\\n{{7*7}}{%x%}//z~<!--</style></script>]]>"


class Nasty:
    """Gives texts that begin with a number of their own, and remembers them."""

    def __init__(self, body: str = MARKUP) -> None:
        self.body = body
        self.given: list[str] = []

    def __call__(self) -> str:
        self.given.append(f"n{len(self.given)}{self.body}")
        return self.given[-1]


def hostile_report(text: Nasty) -> Document:
    """A document with a text of `text` in every place that holds words, but the language and figure names."""
    condition, specimen, flag = text(), text(), text()
    evidence = EvidenceFigure(
        'x"><script>',
        text(),
        text(),
        False,
        (Dot(condition, specimen, 0.002), Dot(condition, specimen, 0.003, flag)),
        (ConditionMark(condition, 0.002, 0.001, 0.003),),
        (PairLine(specimen, (condition,), (0.002,)),),
        0.0025,
    )
    ladder = LadderFigure(
        "ladder",
        text(),
        text(),
        (
            LadderMark("contact", text(), "", 0.002, 0.001, 0.003),
            LadderMark("limit", text(), "", 0.0025),
            LadderMark("threshold", text(), text(), 30.0),
        ),
    )
    shares = ShareFigure("shares", text(), text(), (text(),), (1.0,))
    lines = LineFigure(
        "lines",
        text(),
        text(),
        Axis(text()),
        Axis(text()),
        (
            Line(text(), (0.0, 1.0), (0.0, 1.0), (-1.0, 0.0), (1.0, 2.0)),
            Line(text(), (0.0, 1.0), (1.0, 1.0), ideal=True),
        ),
        (PointMark(text(), 0.1, 0.1),),
        0.5,
        text(),
        text(),
    )
    intervals = IntervalFigure(
        "parts", text(), text(), Axis(text()), (IntervalMark(text(), text(), 1.0, 0.5, 2.0, text()),), 1.0
    )
    # Its names are cut where they find no room; tests/adapters/render/test_wiring_drawing.py has them nasty.
    wiring = WiringFigure(
        "wiring", text(), text(), "output", "return", (WiredPart("shunt", "1 Ω", input_name="input"),)
    )
    words = (
        Headline(text(), "bad", text()),
        Subheading(text()),
        Paragraph(text(), "warning"),
        Bullets((text(), text()), numbered=True),
        Bullets((text(),), tone="caution"),
        Table(text(), (text(), text()), ((text(), text()),), (1,), text()),
    )
    return Document(
        text(),
        text(),
        'en" onload="x',
        text(),
        (Section(text(), words), Section(text(), (ladder, evidence, shares, lines, intervals, wiring))),
    )
