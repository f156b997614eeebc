"""An invented ladder as crowded as it gets: a dozen uses, from heat in a feed to the level of an instrument."""

from ohmsworth.report.document import LadderFigure, LadderMark

LEG, LEGS, SCREEN = "every contact of one leg", "every contact of both legs", "the contact of the screen"

#: Use, and for each threshold: ohm, what happens, its kind in a word, where, and whether it can hurt.
USES: dict[str, tuple[tuple[float, str, str, str, bool], ...]] = {
    "dynamic microphone": (
        (1.85, "hum rejection at 50 Hz falls to 60 dB", "hum", LEG, False),
        (2.15, "buzz rejection at 10 kHz falls to 50 dB", "buzz", LEG, False),
        (2.4, "level at 1 kHz falls by 0.1 dB", "level", LEGS, False),
        (2.43, "noise rises by 0.5 dB", "noise", LEGS, False),
        (10.4, "treble (20 kHz against 1 kHz) falls by 0.1 dB", "treble", LEGS, False),
    ),
    "phantom microphone": (
        (1.85, "hum rejection at 50 Hz falls to 60 dB", "hum", LEG, False),
        (2.15, "buzz rejection at 10 kHz falls to 50 dB", "buzz", LEG, False),
        (2.4, "level at 1 kHz falls by 0.1 dB", "level", LEGS, False),
        (10.4, "treble (20 kHz against 1 kHz) falls by 0.1 dB", "treble", LEGS, False),
        (191.0, "noise rises by 0.5 dB", "noise", LEGS, False),
        (266.0, "phantom voltage at the microphone falls to 24 V", "phantom", SCREEN, False),
    ),
    "balanced line": (
        (21.0, "hum rejection at 50 Hz falls to 60 dB", "hum", LEG, False),
        (24.0, "buzz rejection at 10 kHz falls to 50 dB", "buzz", LEG, False),
        (116.0, "level at 1 kHz falls by 0.1 dB", "level", LEGS, False),
        (410.0, "treble (20 kHz against 1 kHz) falls by 0.1 dB", "treble", LEGS, False),
    ),
    "unbalanced line": (
        (0.047, "hum through the shared return rises to −80 dB", "hum", SCREEN, False),
        (0.47, "hum through the shared return rises to −60 dB", "hum", SCREEN, False),
        (116.0, "level falls by 0.1 dB", "level", "the signal contact", False),
        (5200.0, "treble falls by 0.5 dB", "treble", "the signal contact", False),
    ),
    "instrument": (
        (0.9, "hum through the shared return rises to −70 dB", "hum", SCREEN, False),
        (2900.0, "noise rises by 0.5 dB", "noise", "the signal contact", False),
        (11600.0, "level falls by 0.1 dB", "level", "the signal contact", False),
        (35000.0, "treble falls by 0.5 dB", "treble", "the signal contact", False),
    ),
    "headphone": (
        (0.032, "crosstalk through the shared return rises to −60 dB", "crosstalk", "the return", False),
        (0.32, "crosstalk through the shared return rises to −40 dB", "crosstalk", "the return", False),
        (0.37, "level falls by 0.1 dB", "level", "one signal contact", False),
        (1.6, "damping factor falls to 20", "damping", "one signal contact", False),
    ),
    "loudspeaker": (
        (0.0125, "contact heats by 1 W at full power", "heat", "each contact", True),
        (0.046, "level falls by 0.1 dB", "level", "both contacts together", False),
        (0.18, "damping factor falls to 20", "damping", "both contacts together", False),
        (0.23, "level changes with frequency by 0.3 dB", "treble", "both contacts together", False),
        (0.45, "level falls by 0.5 dB", "level", "both contacts together", False),
    ),
    "digital audio (AES3)": (
        (14.0, "return loss falls to 20 dB", "echo", LEGS, False),
        (80.0, "receiver margin halves", "margin", LEGS, False),
        (390.0, "receiver reads no more", "loss", LEGS, False),
    ),
    "lighting control (DMX512)": (
        (22.0, "receiver margin halves with 32 fixtures on the line", "margin", LEGS, False),
        (90.0, "receiver reads no more", "loss", LEGS, False),
        (1500.0, "common voltage leaves the receiver's range", "earth", "the common contact", False),
    ),
    "video, 75 ohm": (
        (0.7, "level falls by 0.04 dB", "level", "the centre contact", False),
        (15.0, "return loss falls to 20 dB", "echo", "the centre contact", False),
        (34.0, "level falls by 1 dB", "level", "the centre contact", False),
    ),
    "low-voltage feed": (
        (0.031, "contact heats by 0.5 W at 4 A", "heat", "each contact", True),
        (0.15, "volts lost reach 5 % at 4 A", "volts", "both contacts together", False),
        (0.3, "volts lost reach 10 % at 4 A", "volts", "both contacts together", False),
    ),
    "mains feed": (
        (0.0039, "contact heats by 1 W at 16 A", "heat", "each contact", True),
        (0.012, "contact heats by 3 W at 16 A", "heat", "each contact", True),
        (0.18, "volts lost reach 1 % at 16 A", "volts", "both contacts together", False),
        (0.4, "earth fault trips late", "earth", "the earth contact", True),
    ),
}

CONTACTS = (
    LadderMark("contact", "as found", "measured", 0.00898, 0.00853, 0.00946),
    LadderMark("contact", "new", "measured", 0.00238, 0.00211, 0.00268),
    LadderMark("contact", "cleaned", "measured", 0.00236, 0.0022, 0.00253),
)
LIMIT = LadderMark("limit", "limit", "the datasheet: contact resistance of a mated pair", 0.003)
WIRES = tuple(
    LadderMark("wire", label, "0.22 mm² wire", length * 0.0793)
    for label, length in (
        ("10 mm", 0.01),
        ("100 mm", 0.1),
        ("1 m", 1.0),
        ("10 m", 10.0),
        ("100 m", 100.0),
        ("1 km", 1e3),
    )
)


def uses_ladder(count: int = 12, name: str = "uses") -> LadderFigure:
    """The ladder of the first `count` uses, with three conditions, a limit and lengths of wire."""
    thresholds = tuple(
        LadderMark("threshold", words, use, ohm, position=where, harm=harm, serious=serious)
        for use, steps in list(USES.items())[:count]
        for ohm, words, harm, where, serious in steps
    )
    return LadderFigure(
        name,
        f"{count} uses; the contacts lie between 2.4 and 9 mΩ.",
        "How much is it? Measured contacts, limit, lengths of wire and where each use begins to suffer",
        (*CONTACTS, LIMIT, *WIRES, *thresholds),
    )


#: What the tests and the picture for eyes share.
TWELVE = uses_ladder()
