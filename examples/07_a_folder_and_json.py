"""A study folder: what is said about one with faults in it, and the JSON of one without."""

import json
import tempfile
from pathlib import Path

import ohmsworth as ow

STUDY = 'question = "Are they within 5 mΩ?"\n[limit]\nresistance = "5 mΩ"\nsource = "our own rule"\n'
READINGS = """\
specimen;mating;polarity;voltage [mV];current [mA]
S1;1;+;0,2531;100,0
S1;1;-;-0,2493;-100,0
S1;2;+;0,2642;100,0
S1;2;-;-0,2607;-100,0
S2;1;+;0,3011;100,0
S2;1;-;-0,2976;-100,0
S2;2;+;0,2924;100,0
S2;2;-;-0,2889;-100,0
"""

with tempfile.TemporaryDirectory() as name:
    folder = Path(name)
    (folder / "study.toml").write_text(STUDY, "utf-8")

    (folder / "readings.csv").write_text(
        READINGS.replace("0,2531", "0,25e1x").replace("S2;1;-", "S2;1;?"), "utf-8"
    )
    try:
        ow.answer(folder)
    except ow.InputRefused as refused:
        for fault in refused.faults:
            print(f"{fault.where}: found {fault.found}; expected {fault.expected}")

    (folder / "readings.csv").write_text(READINGS, "utf-8")
    told = ow.as_json(ow.answer(folder))

print(told["format"])
print(told["sentence"])
condition = {
    key: told["conditions"][0][key] for key in ("condition", "statistic", "resistance", "low", "high")
}
print(json.dumps({key: float(f"{v:.4g}") if isinstance(v, float) else v for key, v in condition.items()}))
