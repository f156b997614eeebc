"""A study without a story or flaws, of a known truth: to see whether an answer finds it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from ohmsworth.adapters.simulated.bench import Mating, Truth, read_bench
from ohmsworth.adapters.simulated.folder import READINGS, STUDY, bench_text, readings_text, write_folder


def write_plain(folder: Path, truth: Truth, design: Sequence[Mating], seed: int) -> None:
    """Write a study of `truth` into `folder`; its first condition is the reference.

    Parameters
    ----------
    folder
        New, empty, or holding this very study.
    truth
        What is true on the bench.
    design
        The matings in the order of reading; see `rounds`. Specimens that occur under several conditions make a
        paired study, and nothing has to be balanced.
    seed
        Of everything that chance decides.

    Raises
    ------
    ArgumentFault
        When the design names a condition of which there is no truth.
    OutputFault
        When the folder holds anything else.
    """
    reference = json.dumps(next(iter(truth.surfaces)), ensure_ascii=False)
    study = f'question = "Do the conditions differ?"\nreference = {reference}\n\n{bench_text(truth)}\n'
    readings = readings_text(read_bench(truth, design, seed), truth)
    write_folder(folder, {STUDY: study, READINGS: readings})
