"""What ``meaning`` prints and writes."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import (
    STUDY_FILES,
    print_json,
    print_text,
    refuse_taken,
    terminal_width,
    write_documents,
)
from ohmsworth.cli.refusals import folder_faults, target_faults
from ohmsworth.errors import ArgumentFault, Fault, InputRefused, nearest_name, shorten
from ohmsworth.readings.study import UseRequest
from ohmsworth.report.answer import as_json
from ohmsworth.report.meaning_pages import meaning_report, meaning_summary
from ohmsworth.work.asked import asked_ohm, asked_spread
from ohmsworth.work.circuit_files import netlist_of, two_port_of
from ohmsworth.work.meaning import MOST_ASKED, explain
from ohmsworth.work.uses import made_uses

_WHERE = "RESISTANCES"
#: The value of a circuit that names a file.
_LEAD = "touchstone"


@dataclass(frozen=True, slots=True)
class Question:
    """What was typed: resistances, kinds of use, values of the only one, a file of circuits, how contacts scatter."""

    resistances: Sequence[str]
    kinds: Sequence[str]
    values: Sequence[str]
    circuits: Path | None
    spread: str | None


@dataclass(frozen=True, slots=True)
class Targets:
    """Files and a folder to write."""

    html: Path | None
    pdf: Path | None
    pictures: Path | None
    netlist: Path | None
    touchstone: Path | None

    def named(self) -> tuple[tuple[str, Path | None], ...]:
        """The files, each after its option."""
        return (
            ("--html", self.html),
            ("--pdf", self.pdf),
            ("--netlist", self.netlist),
            ("--touchstone", self.touchstone),
        )


def meaning(question: Question, as_data: bool, targets: Targets, options: Sequence[str]) -> None:
    """Print what the resistances mean, after writing what was asked for; `options` are those that the command has."""
    ohms, scatter, uses = _asked(question, targets, options)
    _refuse_inputs(question.circuits, uses, targets)
    answer = explain(uses, ohms, scatter)
    report = meaning_report(answer)
    files = _circuit_files(uses, ohms, targets)
    if targets.pictures is not None:
        files += tuple((targets.pictures / name, data) for name, data in wiring.as_pictures(report))
    written = write_documents(report, targets.html, targets.pdf, files)
    if as_data:
        print_json(as_json(answer))
        return
    print_text(wiring.as_text(meaning_summary(answer), terminal_width()))
    for path in written:
        print_text(f"Written: {path}")


def _asked(
    question: Question, targets: Targets, options: Sequence[str]
) -> tuple[list[float], float | None, tuple[UseRequest, ...]]:
    """What was typed as numbers and circuits, or every fault of it."""
    faults = [*target_faults(targets.named()), *folder_faults(targets.pictures)]
    ohms = _ohms(question.resistances, options, faults)
    scatter = None if question.spread is None else _spread(question, faults)
    uses: tuple[UseRequest, ...] = ()
    try:
        uses = _uses(question)
    except InputRefused as refused:
        faults += refused.faults
    else:
        faults += _not_one(uses, targets)
    if faults:
        raise InputRefused(tuple(faults))
    return ohms, scatter, uses


def _uses(question: Question) -> tuple[UseRequest, ...]:
    if question.circuits is None:
        return wiring.typed_uses(question.kinds, question.values, Path())
    if question.kinds or question.values:
        mend = "Write them into the file, or leave --circuits out."
        raise InputRefused((Fault("--circuits", "--use or --set beside it", "one or the other", mend),))
    return wiring.load_uses(question.circuits)


def _ohms(texts: Sequence[str], options: Sequence[str], faults: list[Fault]) -> list[float]:
    """The resistances that are sound."""
    ohms = [ohm for text in _whole(texts) if (ohm := _ohm(text, options, faults)) is not None]
    if len(set(ohms)) > MOST_ASKED:
        mend = "Ask about fewer at a time."
        faults.append(Fault(_WHERE, f"{len(set(ohms))} of them", f"at most {MOST_ASKED}", mend))
    return ohms


def _whole(texts: Sequence[str]) -> list[str]:
    """Numbers and units that a blank has parted, together again: 3 and mΩ are "3 mΩ"."""
    parted = [
        bool(re.fullmatch(r"[+−-]?[0-9.,]+", a) and re.fullmatch(r"[^\W\d]+", b)) for a, b in pairwise(texts)
    ]
    joined = [
        f"{text} {texts[i + 1]}" if i < len(parted) and parted[i] else text for i, text in enumerate(texts)
    ]
    return [text for i, text in enumerate(joined) if not (i and parted[i - 1])]


def _ohm(text: str, options: Sequence[str], faults: list[Fault]) -> float | None:
    if re.match(r"-+[^\W\d]", text):  # a hyphen is let through for the sake of negative numbers
        near = nearest_name(text, tuple(options))
        mend = f"Did you mean {near}?" if near else "Try 'ohmsworth meaning --help'."
        faults.append(Fault("the command", shorten(text), "an option that there is", mend))
        return None
    return asked_ohm(text, _WHERE, faults)


def _spread(question: Question, faults: list[Fault]) -> float | None:
    text = question.spread or ""
    if not text.strip():
        faults.append(Fault("--spread", "nothing", "a ratio such as 20 %", "Type number and unit."))
    if not question.resistances:
        mend = "Name one, such as 3mohm, or leave --spread out."
        faults.append(Fault("--spread", "no resistance beside it", "resistances to scatter about", mend))
    return asked_spread(text, "--spread", faults)


def _not_one(uses: Sequence[UseRequest], targets: Targets) -> list[Fault]:
    """A circuit for other programs is one circuit."""
    asked = [("--netlist", targets.netlist), ("--touchstone", targets.touchstone)]
    found = f"{len(uses)} circuits" if uses else "no circuit named"
    mend = "Name one circuit with --use, or in a file for --circuits."
    return [
        Fault(option, found, "one circuit", mend)
        for option, path in asked
        if path is not None and len(uses) != 1
    ]


def _refuse_inputs(circuits: Path | None, uses: Sequence[UseRequest], targets: Targets) -> None:
    """Nothing takes the place of what is read, or of another file that is asked for."""
    folder = Path() if circuits is None else circuits if circuits.is_dir() else circuits.parent
    leads = [str(use.values[_LEAD]) for use in uses if _LEAD in use.values]
    read = [*(folder / name for name in (*STUDY_FILES, *leads)), *([] if circuits is None else [circuits])]
    paths = [path for _, path in targets.named()]
    refuse_taken(paths, {os.path.realpath(path) for path in read})


def _circuit_files(
    uses: Sequence[UseRequest], ohms: Sequence[float], targets: Targets
) -> tuple[tuple[Path, bytes], ...]:
    """The only circuit for other programs, with the first resistance in every contact."""
    ohm = ohms[0] if ohms else 0.0
    files: list[tuple[Path, bytes]] = []
    faults: list[Fault] = []
    for option, path in (("--netlist", targets.netlist), ("--touchstone", targets.touchstone)):
        if path is None:
            continue
        (use,) = made_uses(uses)
        try:
            data = (
                netlist_of(use, ohm).encode()
                if option == "--netlist"
                else wiring.as_touchstone(*two_port_of(use, ohm))
            )
            files.append((path, data))
        except ArgumentFault as error:
            expected = str(error).partition("wanted ")[2]
            mend = "Name another use, or set a shorter length."
            faults.append(Fault(option, f"the use '{use.kind}'", expected, mend))
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(files)
