"""What four studies know together of one comparison, and what a new lot would show. Invented, with a known ratio of 2."""

import tempfile
from pathlib import Path

import numpy as np

import ohmsworth as ow

STUDY = 'question = "Does a year on the shelf matter?"\nreference = "fresh"\nmargin = "20 mΩ"\n'
rng = np.random.default_rng(7)

with tempfile.TemporaryDirectory() as name:
    folders = []
    for year in (2022, 2023, 2024, 2025):
        ratio = 2.0 * np.exp(0.1 * rng.standard_normal())  # lots differ by some 10 %
        lines = ["specimen,condition,resistance [mΩ]"]
        for k in range(6):
            fresh = 3.0 * np.exp(0.2 * rng.standard_normal())
            shelved = fresh * ratio * np.exp(0.1 * rng.standard_normal())
            lines += [f"S{k},fresh,{fresh:.4f}", f"S{k},shelved,{shelved:.4f}"]
        folder = Path(name) / f"lot {year}"
        folder.mkdir()
        (folder / "study.toml").write_text(STUDY, "utf-8")
        (folder / "readings.csv").write_text("\n".join(lines) + "\n", "utf-8")
        folders.append(folder)
    answer = ow.known(folders)

print(answer.sentence)
for study in answer.studies:
    print(f"{study.name}: {study.ratio.value:.2f} ({study.ratio.low:.2f} to {study.ratio.high:.2f})")
for words in answer.findings:
    print(words)
