"""An invented report: the stage connectors of a concert hall built over a hot spring."""

import math
from datetime import UTC, datetime

from ohmsworth.report.document import (
    Axis,
    Bullets,
    CableFigure,
    CablePlaceMark,
    CableWireMark,
    ChartFigure,
    ChartLine,
    ChartSeries,
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
    ReelBar,
    ReelFigure,
    ReelPiece,
    Section,
    ShareFigure,
    Subheading,
    Table,
    WiredPart,
    WiringFigure,
)

MADE = datetime(2026, 3, 5, 12, 0, tzinfo=UTC)
CONDITIONS = ("as found", "exercised ten times", "cleaned and protected")
MEDIANS = (0.0125, 0.00504, 0.00252)

CONTACTS = (
    ("Stage box A, as found", 0.0131, 0.0118, 0.0149),
    ("Stage box A, after cleaning", 0.00261, 0.00241, 0.00288),
    ("Stage box B, as found", 0.0079, 0.0066, 0.0094),
    ("Stage box B, after cleaning", 0.00242, 0.00222, 0.0027),
    ("Lectern inlet", 0.0048, 0.0041, 0.0056),
    ("New connector from stock", 0.00189, 0.0017, 0.0021),
)
WIRES = (
    ("1 cm of 0.22 mm² copper", 0.00078),
    ("10 cm of 0.22 mm² copper", 0.0078),
    ("1 m of 1.5 mm² copper", 0.0115),
    ("10 m of 2.5 mm² copper", 0.069),
    ("1 m of 0.22 mm² copper", 0.078),
    ("30 m of 0.22 mm² copper", 2.35),
)
THRESHOLDS = (
    ("Microphone line", "hum rejection at 50 Hz falls to 60 dB", 3.2),
    ("Microphone line", "hum rejection at 50 Hz falls to 40 dB", 32.0),
    ("Microphone line", "level falls by 0.1 dB", 18.0),
    ("Microphone line", "phantom supply at the microphone loses 1 V", 280.0),
    ("Loudspeaker line", "damping factor falls to 20", 0.18),
    ("Loudspeaker line", "level falls by 0.5 dB", 0.45),
    ("Loudspeaker line", "contact heats by 1 W at full power", 0.012),
    ("Headphone", "crosstalk through the shared return reaches −40 dB", 0.32),
    ("Lighting control", "receiver margin halves with 32 fixtures on the line", 22.0),
    ("75-ohm video", "return loss falls to 20 dB", 15.0),
    ("Low-voltage feed", "volts lost reach 5 % at 4 A", 0.15),
    ("Low-voltage feed", "contact heats by 0.5 W at 4 A", 0.031),
)

LADDER = LadderFigure(
    "ladder",
    "The six measured contacts lie between 1.9 and 13 mΩ; the lowest threshold is 12 mΩ.",
    "The measured contacts beside the limit, equivalent wire and the thresholds of each use",
    (
        *(LadderMark("contact", name, "", value, low, high) for name, value, low, high in CONTACTS),
        LadderMark("limit", "Datasheet limit", "", 0.003),
        *(LadderMark("wire", name, "", value) for name, value in WIRES),
        *(LadderMark("threshold", name, group, value) for group, name, value in THRESHOLDS),
    ),
)


def reading(specimen: int, condition: int, turn: int) -> float:
    """An invented reading (ohm) with scatter between specimens and between readings."""
    between = 1 + 0.18 * math.sin(3 * specimen + condition)
    within = 1 + 0.06 * math.sin(7 * turn + 2 * specimen + condition)
    return MEDIANS[condition] * between * within


EVIDENCE = EvidenceFigure(
    "evidence",
    "Readings fall from about 12 mΩ as found to 2.5 mΩ after cleaning.",
    "All readings by condition",
    True,
    tuple(
        Dot(name, f"inlet {s + 1}", reading(s, c, turn), "still moving" if (s, c, turn) == (3, 1, 2) else "")
        for c, name in enumerate(CONDITIONS)
        for s in range(6)
        for turn in range(4)
    ),
    tuple(ConditionMark(name, m, 0.85 * m, 1.18 * m) for name, m in zip(CONDITIONS, MEDIANS, strict=True)),
    tuple(
        PairLine(f"inlet {s + 1}", CONDITIONS, tuple(reading(s, c, 1) for c in range(3))) for s in range(6)
    ),
    0.003,
)
SHARES = ShareFigure(
    "budget",
    "Mating carries 61 % of the variance.",
    "What the uncertainty is made of",
    ("scatter from one mating to the next", "differences between specimens", "meter accuracy", "last digit"),
    (0.613, 0.25, 0.1366, 0.0004),
)
FREQUENCY = tuple(20 * 10 ** (3 * i / 40) for i in range(41))


def falling(depth: float) -> tuple[float, ...]:
    """An invented level (dB) that falls by `depth` towards high frequencies."""
    return tuple(-depth / (1 + 3000 / f) for f in FREQUENCY)


DEPTHS = (0.9, 0.5, 0.3, 0.1)
CURVES = LineFigure(
    "response",
    "The level falls most for the contacts as found, by 0.8 dB at 20 kHz.",
    "Level over frequency",
    Axis("frequency", "Hz", logarithmic=True),
    Axis("level change", "dB", least=1.0),
    (
        *(
            Line(name, FREQUENCY, falling(depth), falling(1.3 * depth), falling(0.6 * depth))
            for name, depth in zip((*CONDITIONS, "new connector"), DEPTHS, strict=True)
        ),
        Line("contacts of no resistance", FREQUENCY, (0.0,) * len(FREQUENCY), ideal=True),
    ),
    threshold=-0.5,
    threshold_words="the hall bears",
    band_words="95 % of contacts",
)
MONTHS = tuple(float(i) for i in range(25))
LINES = LineFigure(
    "dulling",
    "Of a hundred inlets 90 still shine after four months and 14 after twenty.",
    "How many inlets still shine",
    Axis("months since they were cleaned"),
    Axis("inlets that still shine", "%"),
    (
        Line("over the hot spring", MONTHS, tuple(100 / (1 + (m / 10) ** 2.5) for m in MONTHS)),
        Line("in the lobby", MONTHS, tuple(100 / (1 + (m / 20) ** 2.5) for m in MONTHS)),
    ),
    (
        PointMark("four months: 91 of 100 still shine", 4.0, 90.8),
        PointMark("twenty months: 15 of 100 still shine", 20.0, 15.0),
    ),
    50.0,
)
_CHECKS = (*(0.00502 + 0.00001 * math.sin(5 * k) for k in range(27)), 0.00506)
CHART = ChartFigure(
    "check-standard",
    "Twenty-eight checks; the last is beyond the upper limit.",
    "The check standard, day by day",
    Axis("resistance of the check standard", "Ω"),
    tuple(f"2026-02-{k:02d}" for k in range(1, 29)),
    (ChartSeries("check", _CHECKS, ("",) * 26 + ("jump", "beyond its limits")),),
    (
        ChartLine("limit", "upper limit 5.05 mΩ", (0.00505,) * 28),
        ChartLine("centre", "centre 5.02 mΩ", (0.00502,) * 28),
        ChartLine("limit", "lower limit 4.99 mΩ", (0.00499,) * 28),
    ),
    20,
)
INTERVALS = IntervalFigure(
    "parts",
    "Plug 3 is high with every socket.",
    "Which plug or socket is high",
    Axis("times the middle of its kind", "", True),
    (
        IntervalMark("plugs", "plug 1", 0.93, 0.88, 0.98, "low"),
        IntervalMark("plugs", "plug 2", 0.98, 0.93, 1.03),
        IntervalMark("plugs", "plug 3 of the long line to the balcony", 1.38, 1.2, 1.6, "high"),
        IntervalMark("sockets", "socket 1", 1.01, 0.94, 1.08),
        IntervalMark("sockets", "socket 2", 0.99, 0.92, 1.06),
    ),
    1.0,
)


ESTIMATES = Table(
    "Estimates by condition",
    ("Condition", "Readings", "Median", "95 % interval"),
    (
        ("as found", "24", "12.5 mΩ", "10.6 to 14.7 mΩ"),
        ("exercised ten times", "24", "5.04 mΩ", "4.28 to 5.95 mΩ"),
        ("cleaned and protected", "24", "2.52 mΩ", "2.14 to 2.97 mΩ"),
    ),
    (1, 2, 3),
    "Medians of a contact's next mating.",
)
WIRING = WiringFigure(
    "wiring",
    "From the generator through the shunt and the inlet and back; input A lies across the shunt, input B across the inlet.",
    "How the inlet was wired",
    "generator in the lobby",
    "earth",
    (
        WiredPart("series resistor", "47 Ω"),
        WiredPart("shunt", "0.1 Ω", input_name="input A"),
        WiredPart("loudspeaker inlet", "about 12 mΩ", "contact", "input B"),
    ),
    WiredPart("bridge", "0.82 Ω"),
)
CABLE = CableFigure(
    "cable",
    "Three wires; the second does not reach, and the third touches something 12 m from the lobby.",
    "The cable as it should be",
    (
        CableWireMark("screen", "lobby:1", "hall:1"),
        CableWireMark("hot", "lobby:2", "hall:3", "no path", broken=True),
        CableWireMark("cold", "lobby:3", "hall:2", "touch"),
    ),
    ("hall:1", "hall:2", "hall:3"),
    40.0,
    (CablePlaceMark("cold", 12.0, 11.2, 12.8),),
)
REELS = ReelFigure(
    "reels",
    "Two reels: one keeps 13.75 m, of the other 2 m is scrap.",
    "Reels and the pieces to cut from them",
    (
        ReelBar(
            "multicore", "A1", 100.0, (ReelPiece(2, 40.6, "stage"), ReelPiece(1, 5.05, "desk")), 13.75, True
        ),
        ReelBar("multicore", "A2", 50.0, (ReelPiece(40, 1.2, "stage"),), 2.0, False),
    ),
)
FIGURES = (LADDER, EVIDENCE, SHARES, CURVES, LINES, CHART, INTERVALS, WIRING, CABLE, REELS)
READINGS = Table(
    "Every reading",
    ("No.", "Specimen", "Condition", "Reading"),
    tuple(
        (str(number), dot.specimen, dot.condition, f"{1000 * dot.value:.3f} mΩ")
        for number, dot in enumerate(EVIDENCE.dots, start=1)
    ),
    (0, 3),
)

REPORT = Document(
    "Stage inlets of the hot-spring concert hall",
    "Study 7, measured on 3 and 4 March",
    "en-GB",
    "Report 0007. Intervals cover 95 %.",
    (
        Section(
            "Answer",
            (
                Headline("Cleaning brought the stage inlets back within 3 mΩ.", "good", "within"),
                Paragraph("As found, a contact had 12.5 mΩ; after cleaning it has 2.52 mΩ."),
                LADDER,
                Paragraph("The loudspeaker inlets should be cleaned every second season.", "open"),
                Paragraph("Unplug the amplifiers before opening a loudspeaker inlet.", "caution"),
            ),
        ),
        Section("Readings", (Paragraph("Six inlets were read four times each."), EVIDENCE, ESTIMATES)),
        Section("Uncertainty", (SHARES, Table("Left out", ("Reading", "Why"), ()))),
        Section(
            "Frequency",
            (
                CURVES,
                Paragraph("Half a decibel is crossed at 4 kHz.", "bad"),
                LINES,
                CHART,
                INTERVALS,
                WIRING,
                CABLE,
                REELS,
            ),
        ),
        Section(
            "Steps",
            (
                Subheading("What to do"),
                Bullets(
                    ("Check that the equipment is unpowered.", "Wipe the contact.", "Read again."),
                    numbered=True,
                ),
                Bullets(("Solvents are flammable: ventilate.",), tone="warning"),
                READINGS,
            ),
            own_page=True,
        ),
    ),
)
