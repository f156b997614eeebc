"""What to do with one contact: what it costs to leave it or to treat it, from the shop's own outcomes."""

import tempfile
from pathlib import Path

import ohmsworth as ow

CARE = """
subject = "stage box, input 7"
currency = "€"
[contact]
resistance = "9.1 mΩ"
uncertainty = "0.6 mΩ"
found_on = 2026-03-02
[limit]
resistance = "8 mΩ"
source = "the shop's own limit for stage boxes"
[maker_says]
who = "the connector maker"
words = ["Contacts must not be lubricated."]
forbids = ["re-lubricate"]
[prices]
labour = 48
failure = 120
retest = "3 min"
can = ["exercise", "clean", "replace"]
materials.clean = 0.8
materials.replace = 9.5
"""
OUTCOMES = """remedy,specimen,job,before [mΩ],after [mΩ]
exercise,A1,hall,12.1,9.9
exercise,A2,hall,10.4,6.8
exercise,B1,club,9.9,7.1
clean,A1,hall,9.9,3.1
clean,B2,club,8.9,3.4
clean,B3,club,14.1,3.0
"""

with tempfile.TemporaryDirectory() as name:
    folder = Path(name)
    (folder / "care.toml").write_text(CARE, "utf-8")
    (folder / "outcomes.csv").write_text(OUTCOMES, "utf-8")
    answer = ow.care(folder)

print(answer.sentence)
for option in answer.options:
    print(f"{option.words}: {option.cost:.2f} {answer.currency} ({option.low:.2f} to {option.high:.2f})")
for switch in answer.switches:
    print(switch.words)
