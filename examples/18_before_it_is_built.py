"""Before a cable is built: what to cut, from which reel, and what the order costs."""

import tempfile
from pathlib import Path

import ohmsworth as ow
from ohmsworth import wiring

REELS = """\
wire,reel,length [m],useful [m]
core,C1,500,5
core,C2,300,5
screen,S1,250,5
screen,S2,90,5
"""
PRICES = """\
currency = "€"
hourly_rate = 48
tax = "20 %"
[parts]
"multipin, male" = 31.50
"multipin, female" = 33.90
[wires]
core = 0.21
screen = 0.34
[minutes]
termination = 2.5
cable = 15
measurement = 0.3
"""

with tempfile.TemporaryDirectory() as name:
    folder = Path(name) / "cable"
    wiring.write_demo_cable(folder)  # in its place: your cable.toml
    reels, prices = Path(name) / "reels.csv", Path(name) / "prices.toml"
    reels.write_text(REELS, "utf-8")
    prices.write_text(PRICES, "utf-8")
    found = ow.workshop(folder, reels=reels, prices=prices)

print(found.sentence)
for line in found.pieces:
    print(f"{line.number} pieces of {line.cut:.3f} m from {line.stock}")
for stock in found.stocks:
    for reel in stock.reels or ():
        pieces = sum(cut.number for cut in reel.cuts)
        rest = "kept" if reel.kept else "scrap"
        print(f"{stock.stock}, reel {reel.name}: {pieces} pieces, {reel.left:.3f} m {rest}")
if found.estimate is not None:
    for item in found.estimate.lines:
        print(f"{item.name}: {item.number:g}, {item.amount} {found.estimate.currency}")
