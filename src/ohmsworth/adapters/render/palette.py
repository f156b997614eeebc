"""Colours, sizes and the typeface that every drawing shares.

The colours keep apart for the common kinds of colour blindness and in grey print; each also has a shape or a
dash of its own, so that no meaning hangs on colour. `DARK` gives the counterpart on a dark page.
"""

from __future__ import annotations

from pathlib import Path

FONT = "Inter, sans-serif"
FONT_FOLDER = Path(__file__).parent / "fonts"
TEMPLATE_FOLDER = Path(__file__).parent / "templates"

#: Width of every drawing in its own pixels; a column of text in HTML and in the PDF is as wide.
WIDTH = 720
TEXT_SIZE = 12
LINE_HEIGHT = 15

PAPER = "#ffffff"
INK = "#1c2127"
MUTED = "#56606b"
RULE = "#c3cad1"
GRID = "#e4e8ec"
CONTACT = "#0b5cad"
CONTACT_BAND = "#e1edf8"
LIMIT = "#a8321c"
WIRE = "#3f6b2a"
THRESHOLD = "#6b3fa0"
#: From the first threshold of a use on, from the second, and from the third: deeper, in grey too.
THRESHOLD_ZONES = ("#efe9f6", "#ddd2ea", "#cabcdd")
FLAG = "#96520a"

#: Lines of a curve figure: colour and dash change with different periods; a limit is dashed 6-3 everywhere.
LINES = (CONTACT, WIRE, THRESHOLD, FLAG, INK)
DASHES: tuple[tuple[int, ...], ...] = ((1, 0), (2, 3), (9, 3, 2, 3), (14, 5), (4, 4, 1, 4), (20, 3, 3, 3))
#: What lines are held against: grey, dotted.
IDEAL_DASH = (1, 4)
#: How much of the page a band leaves uncovered: bands show through each other.
BAND_OPACITY = 0.16

#: The same colours for light drawing on a dark page, each readable on `PAPER`'s counterpart.
DARK = {
    PAPER: "#15191e",
    INK: "#e9edf1",
    MUTED: "#a9b3bd",
    RULE: "#4a545e",
    GRID: "#2a3138",
    CONTACT: "#74b4f5",
    CONTACT_BAND: "#1b3149",
    LIMIT: "#ff9a84",
    WIRE: "#9ccb82",
    THRESHOLD: "#c7a6f0",
    **dict(zip(THRESHOLD_ZONES, ("#2b2239", "#3d3051", "#503f69"), strict=True)),
    FLAG: "#f0b366",
}
