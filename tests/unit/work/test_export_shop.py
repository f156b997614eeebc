"""A whole shop out of the records and into empty ones: the same logs, numbers, keys and times."""

from __future__ import annotations

import io
import json
import os
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.adapters.records_in_memory import RecordsInMemory
from tests.unit.work.test_import_study import bring, full_records

from ohmsworth import wiring
from ohmsworth.errors import InputRefused, OutputFault
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.faces import face_of
from ohmsworth.work.records import Card, NewLine
from ohmsworth.work.restore_shop import restore_shop
from ohmsworth.work.study_log import QUESTION

ODD = ("CON", "a/b\\c", "…", "..", "Ω 'quoted' <tag>", "x" * 300, "nul.txt", " ")


def shop() -> RecordsInMemory:
    records, _ = full_records()
    records.write_setting("shop", "Ohm & sons", "Ann")
    for i, name in enumerate(ODD):
        toml = f"question = {json.dumps(name)}\n"
        records.open_card("study", "Ann", [NewLine(f"odd {i}", QUESTION, {"toml": toml})], face_of("study"))
    return records


def restored(path: Path) -> RecordsInMemory:
    records = RecordsInMemory()
    with wiring.open_shop(path) as (cards, settings, content):
        restore_shop(records, cards, settings, content, "Kim", face_of)
    return records


def shown(card: Card) -> tuple[object, ...]:
    """What a list shows of a card; the words that a search looks through may stand in any order."""
    return card.number, card.kind, card.opened, card.touched, card.face.title, sorted(card.face.text.split())


@pytest.mark.parametrize("name", ["all", "all.zip"])
def test_everything_comes_back(name: str, tmp_path: Path) -> None:
    records, path = shop(), tmp_path / name
    write = wiring.write_zip if name.endswith(".zip") else wiring.write_tree
    write(path, export_shop(records, wiring.shop_format()))
    again = restored(path)
    assert [shown(card) for card in again.cards()] == [shown(card) for card in records.cards()]
    assert all(again.lines(c.number) == records.lines(c.number) for c in records.cards())
    assert again.files == records.files
    assert again.settings() == records.settings()
    first, second = (dict(export_shop(r, wiring.shop_format())) for r in (records, again))
    assert first == second


def test_two_zips_are_the_same_bytes(tmp_path: Path) -> None:
    records = shop()
    for name in ("a.zip", "b.zip"):
        wiring.write_zip(tmp_path / name, export_shop(records, wiring.shop_format()))
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_its_folders_are_studies_by_themselves(tmp_path: Path) -> None:
    records = shop()
    wiring.write_tree(tmp_path / "all", export_shop(records, wiring.shop_format()))
    folders = sorted((tmp_path / "all/studies").iterdir())
    assert [folder.name[:8] for folder in folders[1:4]] == ["000006 _", "000007 a", "000008 …"]
    assert folders[0].name == "000005 Does it matter_"
    assert answer_study(wiring.load_study(folders[0])).rows == 11
    other = RecordsInMemory()
    assert [bring(other, folder).added for folder in folders] == [24, *([1] * len(ODD))]
    assert "Times are in UTC" in (tmp_path / "all/README.txt").read_text("utf-8")


def test_records_that_hold_something_are_left_alone(tmp_path: Path) -> None:
    wiring.write_tree(tmp_path / "all", export_shop(shop(), wiring.shop_format()))
    records, _ = full_records()
    before = records.count()
    with wiring.open_shop(tmp_path / "all") as (cards, settings, content), pytest.raises(InputRefused):
        restore_shop(records, cards, settings, content, "Kim", face_of)
    assert records.count() == before


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "all").mkdir()
    (tmp_path / "all/mine.txt").write_text("mine")
    (tmp_path / "all.zip").write_text("mine")
    for write, name in ((wiring.write_tree, "all"), (wiring.write_zip, "all.zip")):
        with pytest.raises(OutputFault, match="nothing was written"):
            write(tmp_path / name, [("a", b"")])
    assert sorted(path.name for path in tmp_path.iterdir()) == ["all", "all.zip"]
    assert (tmp_path / "all.zip").read_text() == "mine"


def test_a_half_written_one_is_not_left_behind(tmp_path: Path) -> None:
    def broken() -> object:
        yield "a", b"1"
        raise OutputFault("full")

    for write, name in ((wiring.write_tree, "all"), (wiring.write_zip, "all.zip")):
        with pytest.raises(OutputFault, match="full"):
            write(tmp_path / name, broken())  # type: ignore[operator]
    assert list(tmp_path.iterdir()) == []


def packed(path: Path, change: Callable[[zipfile.ZipFile], None]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        change(file)
    return path


def _link(file: zipfile.ZipFile) -> None:
    entry = zipfile.ZipInfo("cards.json")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    file.writestr(entry, "/etc/passwd")


def _twice(file: zipfile.ZipFile) -> None:
    file.writestr("cards.json", "{}")
    file.writestr("Cards.json", "{}")


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (lambda file: file.writestr("../cards.json", "{}"), "a name that leads elsewhere"),
        (lambda file: file.writestr("/cards.json", "{}"), "a name that leads elsewhere"),
        (lambda file: file.writestr("a/../../x", "{}"), "a name that leads elsewhere"),
        (lambda file: file.writestr("a\\b", "{}"), "a name that leads elsewhere"),
        (lambda file: file.writestr("C:x", "{}"), "a name that leads elsewhere"),
        (lambda file: file.writestr("a/nul", "{}"), "a name that leads elsewhere"),
        (lambda file: file.writestr("a/" * 9 + "x", "{}"), "a name that leads elsewhere"),
        (_link, "a link"),
        (_twice, "a name twice"),
        (lambda file: file.writestr("cards.json", bytes(30 * 1024 * 1024)), "31457280 bytes"),
        (lambda file: file.writestr("other", "{}"), "no such file"),
    ],
)
def test_a_zip_is_not_trusted(change: Callable[[zipfile.ZipFile], None], found: str, tmp_path: Path) -> None:
    path = packed(tmp_path / "x.zip", change)
    with pytest.raises(InputRefused, match=found), wiring.open_shop(path):
        pass


def test_a_damaged_zip_is_refused(tmp_path: Path) -> None:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("cards.json", os.urandom(2000).hex())
        file.writestr("settings.json", "{}")
    data = bytearray(whole.getvalue())
    data[200:210] = bytes(10)
    (tmp_path / "x.zip").write_bytes(bytes(data))
    with pytest.raises(InputRefused, match="a damaged file"), wiring.open_shop(tmp_path / "x.zip"):
        pass
    (tmp_path / "y.zip").write_bytes(b"PK")
    with pytest.raises(InputRefused, match="no zip file"), wiring.open_shop(tmp_path / "y.zip"):
        pass


def test_a_link_in_a_folder_is_refused(tmp_path: Path) -> None:
    wiring.write_tree(tmp_path / "all", export_shop(shop(), wiring.shop_format()))
    (tmp_path / "all/more").symlink_to("/etc")
    with pytest.raises(InputRefused, match="a link"), wiring.open_shop(tmp_path / "all"):
        pass


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"version": 1', '"version": 2', "Bring this program up to date"),
        ('"ohmsworth shop"', '"another"', "found format 'another'"),
        ('"about": 3', '"about": 99', "about the line 99"),
        ('"key": "w"', '"key": "c"', "the same key in two lines"),
        ('"key": "cu"', '"key": "jo"', "a key that stands in two cards"),
        ('"card": 4', '"card": 99', "found card 99"),
        ('"card": 4', '"card": "x"', "in place of a card's number"),
        ('"kind": "customer"', '"kind": "owner"', "no card with lines"),
        ('"number": 5,\n   "opened"', '"number": 4,\n   "opened"', "no number of its own"),
        ('"at": "2', '"at": "x2', "Invalid isoformat"),
        ("_pin_ 1_.png", "other.png", "which is not there"),
        ('"text": "0.2530"', '"text": "many"', "a voltage such as"),
        ('"polarity": "+"', '"polarity": "?"', "the polarity"),
        ('"by": "Lee"', '"by": 3', "in place of a text"),
        ('"by": "Lee"', '"who": "Lee"', "the unknown key"),
        ("{", "[", "no JSON object"),
    ],
)
def test_cards_that_are_not_whole_are_refused(old: str, new: str, told: str, tmp_path: Path) -> None:
    wiring.write_tree(tmp_path / "all", export_shop(shop(), wiring.shop_format()))
    file = tmp_path / "all/cards.json"
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    with pytest.raises(InputRefused, match=told), wiring.open_shop(tmp_path / "all"):
        pass
