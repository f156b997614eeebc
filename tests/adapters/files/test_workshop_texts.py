"""The workshop's lists as texts: read as people paste and save them, and reels written so that they come back alike."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.adapters.files.workshop import prices_in, reels_csv, reels_in, text_of_file
from ohmsworth.cables.workshop import Reel
from ohmsworth.errors import InputRefused
from ohmsworth.readings.names import clean_name

NAMES = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12).filter(
    lambda name: clean_name(name) == name and not name.startswith("'")
)
MILLIMETRES = st.integers(1, 20_000_000)
REELS = st.lists(
    st.builds(Reel, NAMES, NAMES, MILLIMETRES, st.none() | st.integers(0, 20_000_000)),
    min_size=1, max_size=6, unique_by=lambda reel: (reel.stock, reel.name),
)  # fmt: skip


@given(REELS)
def test_reels_come_back_as_they_were_written(reels: list[Reel]) -> None:
    assert list(reels_in(reels_csv(reels)).reels) == reels


def test_what_a_spreadsheet_copies_has_tabs_and_decimal_commas() -> None:
    read = reels_in("wire\treel\tlength [m]\tshelf\nstrand 0,22 red\tA 1\t31,25\tleft\n")
    assert read.reels == (Reel("A 1", "strand 0,22 red", 31250),)
    assert read.unused == ("shelf",)


def test_a_file_is_read_in_the_letters_it_was_saved_in() -> None:
    text = 'currency = "£"\n[parts]\n"Stecker, männlich" = "4,20"\n'
    for codec in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        prices = prices_in(text_of_file(text.encode(codec), "prices.toml"))
        assert (prices.currency, {name: str(price) for name, price in prices.parts.items()}) == (
            "£", {"Stecker, männlich": "4.20"},
        )  # fmt: skip
    with pytest.raises(InputRefused, match="NUL"):
        text_of_file(b"a\0b", "reels.csv")


@pytest.mark.parametrize("text", ["", "wire,length [m]\n", "nonsense"])
def test_a_list_of_nothing_is_refused(text: str) -> None:
    with pytest.raises(InputRefused):
        reels_in(text)
