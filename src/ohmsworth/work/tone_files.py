"""What the files of a measurement over frequency are called; all of them stand in one folder."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

#: What is wished for, what is played and in which order, and the sound of it.
WISHES, PLAN, DRIVE = "tones.toml", "plan.json", "drive.wav"
#: The card that says how to connect and what to do.
CARD_PAGE, CARD_PDF = "wiring.html", "wiring.pdf"

#: What is in the contact's place: the contact itself, a short, a known resistor, or nothing.
Series = Literal["contact", "short", "load", "open"]
#: How it is connected: shunt on the first input and contact on the second, or exchanged; both again with the contact's sense
#: leads exchanged.
Kind = Literal["straight", "swapped", "straight-turned", "swapped-turned"]
SERIES: tuple[Series, ...] = ("contact", "short", "load", "open")
KINDS: tuple[Kind, ...] = ("straight", "swapped", "straight-turned", "swapped-turned")
#: The recording that each is of no use without.
NEEDS: dict[Kind, Kind] = {
    "straight": "straight",
    "swapped": "straight",
    "straight-turned": "straight",
    "swapped-turned": "swapped",
}
#: What the takes of a series are of no use without.
SERIES_NEEDS: dict[Series, Series] = {"load": "short", "open": "load"}
#: The recordings of the contact, as the card names them.
RECORDINGS = tuple(f"{kind}.wav" for kind in KINDS)
STRAIGHT, SWAPPED, STRAIGHT_TURNED, SWAPPED_TURNED = RECORDINGS
#: What a file of a recording ends with; where a recorder writes one file an input, "-1" and "-2" stand before it.
ENDINGS = (".wav", ".flac")
PAIR = ("-1", "-2")


def stem_of(series: Series, kind: Kind) -> str:
    """What a recording is called, without its ending.

    Examples
    --------
    >>> stem_of("contact", "straight"), stem_of("short", "swapped-turned")
    ('straight', 'short-swapped-turned')
    """
    return kind if series == "contact" else f"{series}-{kind}"


#: Every recording by its name without ending.
STEMS: dict[str, tuple[Series, Kind]] = {
    stem_of(series, kind): (series, kind) for series in SERIES for kind in KINDS
}


def place_of(name: str) -> tuple[Series, Kind]:
    """What was in the contact's place, and how it was connected, by the name of a recording.

    Raises
    ------
    KeyError
        When no recording is called so.

    Examples
    --------
    >>> place_of("short-swapped.wav"), place_of("straight-2.flac")
    (('short', 'swapped'), ('contact', 'straight'))
    """
    stem = _parted(name)[0]
    return STEMS[stem[:-2] if stem.endswith(PAIR) else stem]


def recordings_among(names: Iterable[str], stems: Iterable[str] = STEMS) -> dict[str, tuple[str, ...]]:
    """The files of each recording among `names`, in the order of `stems`; capital letters do not matter.

    Examples
    --------
    >>> recordings_among(["Swapped.WAV", "straight-2.wav", "straight-1.wav", "drive.wav"])
    {'straight': ('straight-1.wav', 'straight-2.wav'), 'swapped': ('Swapped.WAV',)}
    """
    found: dict[str, list[str]] = {stem: [] for stem in stems}
    for name in sorted(names):
        stem, ending = _parted(name)
        if ending in ENDINGS:
            whole = stem[:-2] if stem.endswith(PAIR) else stem
            if whole in found:
                found[whole].append(name)
    return {stem: tuple(files) for stem, files in found.items() if files}


def is_sound(name: str) -> bool:
    """Whether a file ends as a recording does."""
    return _parted(name)[1] in ENDINGS


def number_of(name: str) -> int:
    """Which input a file of a pair holds: 1 or 2; 0 for a file of both."""
    stem = _parted(name)[0]
    return PAIR.index(stem[-2:]) + 1 if stem.endswith(PAIR) else 0


def _parted(name: str) -> tuple[str, str]:
    """A name's stem and ending, in small letters."""
    stem, dot, ending = name.lower().rpartition(".")
    return stem, f"{dot}{ending}"
