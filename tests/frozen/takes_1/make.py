"""Made this folder and tones_1, once, with the program whose formats were the first; run again they would be a later one's.

python tests/frozen/takes_1/make.py new/folder

What is recorded is invented: CONTACT and SHUNT are true.
"""

import sys
from pathlib import Path

import soundfile

from ohmsworth.adapters.files import plan_bytes
from ohmsworth.adapters.simulated.sound import Take, TrueContact, TrueShunt, Truth, simulate
from ohmsworth.adapters.simulated.taken import CIRCUIT, INTERFACE, PLAN, TONES
from ohmsworth.work.tone_files import Series, stem_of

CONTACT, SHORT, SHUNT = TrueContact(9e-3, 60e-9), TrueContact(2e-4, 20e-9), TrueShunt(0.1002)
KNOWN = """
[limit]
resistance = "12 mΩ"
source = "invented"
[direct]
resistance = "8.8 mΩ"
uncertainty = "50 µΩ"
current = "20 mA"
"""


def make(folder: Path) -> None:
    """Wishes, plan and recordings of 16 bits; the answer is what `ohmsworth takes --json` prints."""
    folder.mkdir(parents=True)
    (folder / "tones.toml").write_text(TONES + KNOWN, "utf-8")
    (folder / "plan.json").write_bytes(plan_bytes(PLAN))
    ways: tuple[Take, ...] = ("straight", "swapped")
    things: tuple[tuple[Series, TrueContact], ...] = (("contact", CONTACT), ("short", SHORT))
    for seed, (series, contact) in enumerate(things):
        for way in ways:
            one = simulate(PLAN, CIRCUIT, Truth(contact, SHUNT), INTERFACE, seed, way)
            waves = one.whole(0, one.frames)
            soundfile.write(folder / f"{stem_of(series, way)}.flac", waves, one.rate, "PCM_16")  # type: ignore[arg-type]


if __name__ == "__main__":
    make(Path(sys.argv[1]))
