"""What the workshop's files say is read as people and spreadsheets write it, and everything wrong is told at once."""

from __future__ import annotations

from decimal import Decimal as D
from pathlib import Path

import pytest

from ohmsworth.adapters.files.workshop import load_workshop
from ohmsworth.adapters.files.workshop.prices_toml import read_prices
from ohmsworth.adapters.files.workshop.reels_csv import read_reels
from ohmsworth.cables.supply import Stock, Supply
from ohmsworth.cables.workshop import Reel
from ohmsworth.errors import Fault, InputRefused

CABLE = """\
name = "line"
length = "10 m"
{more}
[ends.A]
contacts = ["1-2"]
[ends.B]
contacts = ["1-2"]
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
{stock}
[[wires]]
from = "A:1-2"
to = "B:1-2"
"""


def cable(folder: Path, more: str = "", stock: str = "", last: str = "") -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "cable.toml").write_text(CABLE.format(more=more, stock=stock) + last, "utf-8")
    return folder


def supply(folder: Path) -> Supply:
    return load_workshop([folder], None, None).cables[0].request.supply


def written(place: Path, text: str | bytes) -> Path:
    place.write_bytes(text if isinstance(text, bytes) else text.encode())
    return place


def told(faults: list[Fault]) -> list[tuple[str, str]]:
    return [(fault.where, fault.found) for fault in faults]


def test_what_a_cable_is_made_from(tmp_path: Path) -> None:
    assert supply(cable(tmp_path / "a")) == Supply()
    more = 'quantity = 12\nbulk = "two  cores"\njoint_allowance = "7 cm"'
    last = '[[parts]]\nname = "label"\nnumber = 2\n[[parts]]\nname = "sleeve"\n[[parts]]\nname = "label"\n'
    assert supply(cable(tmp_path / "b", more, last=last)) == Supply(
        12, "two cores", {}, 0.07, (("label", 3), ("sleeve", 1))
    )
    stock = 'stock = "strand 0.22"\nstock_by_colour = true'
    assert supply(cable(tmp_path / "c", stock=stock)).stocks == {"core": Stock("strand 0.22", True)}
    assert supply(cable(tmp_path / "d", stock="stock_by_colour = true")).stocks == {
        "core": Stock("core", True)
    }


@pytest.mark.parametrize(
    ("more", "stock", "last", "where"),
    [
        ("quantity = 0", "", "", "cable.toml, key 'quantity'"),
        ("quantity = 2.5", "", "", "cable.toml, key 'quantity'"),
        ('quantity = "3"', "", "", "cable.toml, key 'quantity'"),
        ("bulk = 3", "", "", "cable.toml, key 'bulk'"),
        ('joint_allowance = "7 kg"', "", "", "cable.toml, key 'joint_allowance'"),
        ('bulk = "two cores"', 'stock = "strand"', "", "cable.toml, key 'bulk'"),
        ("", "stock = 3", "", "cable.toml, [kinds.core], key 'stock'"),
        ("", "stock_by_colour = 1", "", "cable.toml, [kinds.core], key 'stock_by_colour'"),
        ("", 'stok = "strand"', "", "cable.toml, [kinds.core], key 'stok'"),
        ("", "", "[[parts]]\nnumber = 2\n", "cable.toml, [[parts]] number 1, key 'name'"),
        ("", "", '[[parts]]\nname = "x"\nnumber = 0\n', "cable.toml, [[parts]] number 1, key 'number'"),
    ],
)
def test_what_is_wrong_with_it_is_told(tmp_path: Path, more: str, stock: str, last: str, where: str) -> None:
    with pytest.raises(InputRefused) as refused:
        load_workshop([cable(tmp_path / "a", more, stock, last)], None, None)
    assert [fault.where for fault in refused.value.faults] == [where]


def test_faults_of_every_file_are_told_together(tmp_path: Path) -> None:
    folders = [
        cable(tmp_path / "a", "quantity = 0"),
        cable(tmp_path / "b", "quantity = -1"),
        tmp_path / "none",
    ]
    reels, prices = (
        written(tmp_path / "stock.csv", "wire,length [kg]\nx,1\n"),
        written(tmp_path / "list.toml", "tax = 5\n"),
    )
    with pytest.raises(InputRefused) as refused:
        load_workshop(folders, reels, prices)
    places = [fault.where for fault in refused.value.faults]
    assert places[:2] == ["a/cable.toml, key 'quantity'", "b/cable.toml, key 'quantity'"]
    assert "none" in places[2] or "none" in refused.value.faults[2].found
    assert places[3] == "stock.csv, line 1, column 'length'"
    assert set(places[4:]) == {"list.toml, key 'currency'", "list.toml, key 'tax'"}
    assert all(fault.expected and fault.mend for fault in refused.value.faults)


@pytest.mark.parametrize(
    "text",
    [
        "wire,reel,length [m],useful [m]\nstrand  red,A,31.2,2\nstrand red,,500,\n",
        "﻿Wire;Reel;Length [m];Useful [m]\r\nstrand red;A;31,2;2\r\nstrand red;;500;\r\n",
        "wire,reel,length (cm),useful [mm],note\nstrand red,A,3120,2000,top shelf\n\nstrand red,,50000,,\n",
    ],
)
def test_reels_as_people_write_them(tmp_path: Path, text: str) -> None:
    reels, _, faults = read_reels(written(tmp_path / "reels.csv", text))
    assert not faults
    assert reels == (Reel("A", "strand red", 31200, 2000), Reel("no. 2", "strand red", 500000))


def test_a_reel_is_rounded_down_and_its_useful_rest_up(tmp_path: Path) -> None:
    text = "wire,length [m],useful [m]\nx,1.0009,0.5001\n"
    assert read_reels(written(tmp_path / "reels.csv", text))[0] == (Reel("no. 1", "x", 1000, 501),)


def test_a_column_that_is_not_known_is_named(tmp_path: Path) -> None:
    reels, unused, _ = read_reels(written(tmp_path / "reels.csv", "wire,length [m],Shelf\nx,10,3\n"))
    assert (len(reels), unused) == (1, ("Shelf",))


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("", [("reels.csv", "an empty file")]),
        ("wire,length [m]\n", [("reels.csv", "a header and no reels")]),
        ("length [m]\n3\n", [("reels.csv, line 1", "no column 'wire'")]),
        ("wire,length\nx,3\n", [("reels.csv, line 1, column 'length'", "no unit")]),
        ("wire,length [m],wire\nx,3,y\n", [("reels.csv, line 1", "a second column 'wire'")]),
        ("wire,length [m]\n,3\nx,\ny,0\nz,abc\n", [
            ("reels.csv, line 5, column 'length'", "'abc'"), ("reels.csv, line 2, column 'wire'", "an empty cell"),
            ("reels.csv, line 3, column 'length'", "an empty cell"), ("reels.csv, line 4, column 'length'", "'0'"),
        ]),
        ("wire,reel,length [m]\nx,A,3\nx,A,4\ny,A,4\n", [("reels.csv, line 3, column 'reel'", "a second reel 'A' of 'x'")]),
        ("wire,length [m],useful [m]\nx,3,-1\n", [("reels.csv, line 2, column 'useful'", "-1 m")]),
        ("wire,length [m]\nx,30000\n", [("reels.csv, line 2, column 'length'", "'30000'")]),
    ],
)  # fmt: skip
def test_every_fault_of_reels_is_told(tmp_path: Path, text: str, faults: list[tuple[str, str]]) -> None:
    assert told(read_reels(written(tmp_path / "reels.csv", text))[2]) == faults


def test_prices_as_people_write_them(tmp_path: Path) -> None:
    text = """\
currency = "€"
decimals = 3
hourly_rate = 48
surcharge = "12,5 %"
tax = "20%"
[parts]
"plug,  male" = 4.20
socket = "5,1150"
[wires]
strand = 0.1
[minutes]
termination = 2.5
measurement = 0
"""
    prices, faults = read_prices(written(tmp_path / "prices.toml", text))
    assert not faults
    assert prices is not None
    assert prices.parts == {"plug, male": D("4.2"), "socket": D("5.1150")}
    assert prices.wires == {"strand": D("0.1")}  # not 0.1000000000000000055
    assert prices.minutes == {"termination": D("2.5"), "measurement": D(0)}
    assert (prices.hourly_rate, prices.surcharge, prices.tax) == (D(48), D("12.5"), D(20))
    assert (prices.currency, prices.decimals) == ("€", 3)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("tax = 20", "key 'tax'"),
        ('tax = "20"', "key 'tax'"),
        ('surcharge = "-5 %"', "key 'surcharge'"),
        ("decimals = 9", "key 'decimals'"),
        ("hourly_rate = -1", "key 'hourly_rate'"),
        ("hourly_rate = nan", "key 'hourly_rate'"),
        ("hourly_rate = true", "key 'hourly_rate'"),
        ('hourly_rate = "48 €"', "key 'hourly_rate'"),
        ('hourly_rate = "1,234"', "key 'hourly_rate'"),
        ("hourly_rate = 1e9", "key 'hourly_rate'"),
        ("parts = 3", "key 'parts'"),
        ("[parts]\nplug = [1]", "[parts], key 'plug'"),
        ('[parts]\n"a b" = 1\n"a  b" = 2', "[parts], key 'a  b'"),
        ("[minutes]\ntermnation = 1", "[minutes], key 'termnation'"),
        ("rate = 3", "key 'rate'"),
    ],
)
def test_every_fault_of_prices_is_told(tmp_path: Path, text: str, where: str) -> None:
    prices, faults = read_prices(written(tmp_path / "prices.toml", f'currency = "€"\n{text}\n'))
    assert prices is None
    assert [fault.where for fault in faults] == [f"prices.toml, {where}"]
