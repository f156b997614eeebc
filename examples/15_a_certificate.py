"""A cable's certificate: issued and signed, verified, and found out when somebody changes a reading."""

import tempfile
from pathlib import Path

import ohmsworth as ow

DESCRIPTION = """
name = "microphone lead"
serial = "12"
length = "10 m"
length_tolerance = "1 %"
temperature = "20 °C"
temperature_tolerance = "2 K"
[ends.A]
contacts = "1-2"
[ends.B]
contacts = "1-2"
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[[wires]]
name = "core"
from = "A:1-2"
to = "B:1-2"
[meter]
name = "bench meter"
calibrated = 2026-01-15
accuracy = "0.2 % + 2 counts"
resolution = "1 mΩ"
[certificate]
number = "2026-014"
shop = "The Cable Bench"
tested_by = "A. Tester"
date = 2026-03-02
"""
READINGS = "from,to,resistance [Ω]\nA:1,B:1,0.790\nA:2,B:2,0.791\nA:1,A:2,open\n"

with tempfile.TemporaryDirectory() as name:
    private, public = ow.make_key(Path(name) / "shop.key")  # once; in its place: your own
    folder = Path(name) / "cable"
    folder.mkdir()
    (folder / "cable.toml").write_text(DESCRIPTION, "utf-8")
    (folder / "test.csv").write_text(READINGS, "utf-8")
    made = ow.certify(folder, private, pdf=Path(name) / "paper.pdf", label=Path(name) / "label.svg")
    print("written:", ", ".join(path.name for path in made.written))
    print(ow.verify(made.written[1], public).sentence)  # the PDF, as your customer has it

    file = made.written[0]
    file.write_text(file.read_text("utf-8").replace("0.790", "0.799"), "utf-8")
    answer = ow.verify(file, public, folder=folder)

for check in answer.checks:
    print(f"{check.name}: {check.result}")
    for line in check.details[:1]:
        print(f"    {line}")
