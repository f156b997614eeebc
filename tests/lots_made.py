"""Lots for tests: a study whose lot is accepted, its sample of 76 pieces, and a shop's paper."""

from __future__ import annotations

import numpy as np
from tests.papers_made import found, issue_ports

from ohmsworth.work.papers.issue import Issued
from ohmsworth.work.papers.issue_lot import LotIssueAsked, issue_lot

LOT = """\
question = "Can I sell this lot?"
temperature = "21 °C"
[limit]
resistance = "3 mΩ"
source = "datasheet of the plug"
[bench.voltmeter]
name = "bench meter"
serial = "0042"
calibrated = 2026-01-15
percent_of_reading = 0.1
counts = 3
resolution = "0.1 µV"
[bench.ammeter]
percent_of_reading = 0.2
counts = 3
resolution = "10 µA"
[lot]
name = "three-pin plugs"
number = "B-77"
size = 200
drawn = "by random numbers, from every box"
acceptable = "1 %"
rejectable = "6 %"
[certificate]
number = "2026-020"
shop = "The Cable Bench"
address = "1 Mill Lane"
tested_by = "A. Tester"
date = 2026-03-02
customer = "The Hall"
"""
CORRECTED = f"""{LOT.replace('"2026-020"', '"2026-021"').replace("The Hall", "The Barn")}
supersedes = "2026-020"
reason = "The name of the customer was wrong."
"""
#: Every value in it is of P1.
FIRST = "P1,lot,1,+,"


def sample(pieces: int = 76, over: int = 0, close: int = 0) -> str:
    """readings.csv: two matings of every piece, forward and reversed; the first ones `over` the limit or `close` to it."""
    rng = np.random.default_rng(5)
    ohms = 2e-3 * np.exp(0.08 * rng.standard_normal(pieces))
    ohms[:over] = 5e-3
    ohms[over : over + close] = 3e-3
    rows = ["specimen,condition,mating,polarity,voltage [mV],current [mA]"]
    for i, ohm in enumerate(ohms, start=1):
        for mating in (1, 2):
            now = ohm * float(np.exp(0.02 * rng.standard_normal()))
            for sign, current in (("+", 100.0), ("-", -100.0)):
                volt = now * current + 0.002 + 0.0002 * float(rng.standard_normal())
                rows.append(f"P{i},lot,{mating},{sign},{volt:.5f},{current:.2f}")
    return "\n".join(rows) + "\n"


def issued_lot(
    study: str = LOT, readings: str | None = None, old: bytes | None = None, **more: str
) -> Issued:
    """Its paper; `more` are further files, by their names without the ending."""
    files = {"study.toml": study, "readings.csv": sample() if readings is None else readings}
    files |= {f"{name}.csv": text for name, text in more.items()}
    return issue_lot(LotIssueAsked(files, None if old is None else found(old)), issue_ports())
