"""Every doubt that a reading may raise before it is accepted has words of its own."""

import re
from pathlib import Path

import ohmsworth
from ohmsworth.report.doubt_words import _WORDS, doubt_words

SOURCE = Path(ohmsworth.__file__).parent
#: Where doubts about one reading are made.
MAKERS = (
    "readings/entry_signs", "readings/entry_slips", "readings/dry_circuit", "readings/copies", "readings/at_rest",
    "work/entry_doubts",
)  # fmt: skip


def test_no_code_is_shown_to_a_person() -> None:
    texts = [(SOURCE / f"{name}.py").read_text("utf-8") for name in MAKERS]
    codes = {code for text in texts for code in re.findall(r'Doubt\(\s*"([A-Z_]+)"', text)}
    assert len(codes) > 10
    assert codes <= set(_WORDS)
    assert not any(doubt_words(code) == code.lower().replace("_", " ") for code in codes - {"STILL_MOVING"})


def test_every_code_with_words_is_one_of_the_manual() -> None:
    page = (SOURCE.parents[1] / "docs/warnings.md").read_text("utf-8")
    assert set(_WORDS) <= set(re.findall(r"^### ([A-Z_]+)$", page, re.MULTILINE))
