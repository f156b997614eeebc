"""The reels that the invented shop has in stock, and its prices."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from ohmsworth.adapters.simulated.season.days import moment
from ohmsworth.work.fill_season import Deed, ListWritten

REELS = """\
wire,reel,length [m],useful [m]
multicore 8 pairs,A1,100,10
multicore 8 pairs,A2,52,10
microphone wire,B1,31.2,2
microphone wire,B2,17,2
lighting data wire,D1,64,5
"loudspeaker wire, 4 poles",L1,38.5,5
patch wire,P1,11,1
"""
PRICES = """\
# Invented, as the shop is.
currency = "€"
hourly_rate = 48
surcharge = "15 %"
tax = "20 %"

[parts]
"multipin, male" = 31.50
"multipin, female" = 34.00
"three-pin socket" = 3.90
"three-pin plug" = 3.60
"three-pole plug" = 2.80
"five-pin plug" = 4.40
"five-pin socket" = 4.70
"four-pole plug" = 6.20
"four-pole socket" = 6.60
label = 0.15

[wires]
"multicore 8 pairs" = 3.45
"microphone wire" = 0.62
"lighting data wire" = 0.95
"loudspeaker wire, 4 poles" = 4.10
"patch wire" = 0.40

[minutes]
termination = 2.5
cable = 10
measurement = 0.3
"""


def list_deeds(last: date, owner: str, helper: str) -> Iterator[Deed]:
    """Both written down in spring, and the reels counted anew not long ago."""
    yield Deed(moment(last, 180, 9), owner, ListWritten("prices", PRICES))
    before = REELS.replace("B1,31.2", "B1,100").replace("A2,52", "A2,100")
    yield Deed(moment(last, 180, 10), helper, ListWritten("reels", before))
    yield Deed(moment(last, 16, 9), helper, ListWritten("reels", REELS, "counted anew"))
