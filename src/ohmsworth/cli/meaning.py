"""What ``meaning`` prints and writes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width, write_documents
from ohmsworth.cli.refusals import check_targets
from ohmsworth.consequence import make_use
from ohmsworth.errors import ArgumentFault, Fault, InputRefused, OutputFault, QuantityFault
from ohmsworth.readings.study import UseRequest
from ohmsworth.report.answer import as_json
from ohmsworth.report.meaning_pages import meaning_report, meaning_summary
from ohmsworth.units import parse_quantity
from ohmsworth.work.circuit_files import netlist_of, two_port_of
from ohmsworth.work.meaning import LARGEST_SPREAD, MOST_ASKED, explain

#: A contact resistance outside of this (ohm) is a slip of the unit.
_BELIEVED = (1e-7, 1e9)


@dataclass(frozen=True, slots=True)
class Targets:
    """Files and a folder to write."""

    html: Path | None
    pdf: Path | None
    pictures: Path | None
    netlist: Path | None
    touchstone: Path | None


def meaning(
    resistances: Sequence[str],
    kinds: Sequence[str],
    values: Sequence[str],
    circuits: Path | None,
    spread: str | None,
    as_data: bool,
    targets: Targets,
) -> None:
    """Print what the resistances mean, after writing what was asked for."""
    check_targets(targets.html, targets.pdf)
    ohms, scatter, uses = _asked(resistances, kinds, values, circuits, spread)
    answer = explain(uses, ohms, scatter)
    report = meaning_report(answer)
    files = _circuit_files(uses, ohms, targets)
    if targets.pictures is not None:
        files += _pictures(targets.pictures, wiring.as_pictures(report))
    written = write_documents(report, targets.html, targets.pdf, files)
    if as_data:
        print_json(as_json(answer))
        return
    print_text(wiring.as_text(meaning_summary(answer), terminal_width()))
    for path in written:
        print_text(f"Written: {path}")


def _asked(
    resistances: Sequence[str],
    kinds: Sequence[str],
    values: Sequence[str],
    circuits: Path | None,
    spread: str | None,
) -> tuple[list[float], float | None, tuple[UseRequest, ...]]:
    """What was typed as numbers and circuits, or every fault of it."""
    faults: list[Fault] = []
    ohms = [ohm for text in resistances if (ohm := _ohm(text, faults)) is not None]
    if len(set(ohms)) > MOST_ASKED:
        mend = "Ask about fewer at a time."
        faults.append(Fault("RESISTANCES", f"{len(set(ohms))} of them", f"at most {MOST_ASKED}", mend))
    scatter = None if spread is None else _spread(spread, faults)
    uses: tuple[UseRequest, ...] = ()
    try:
        if circuits is not None and (kinds or values):
            mend = "Write them into the file, or leave --circuits out."
            faults.append(Fault("--circuits", "--use or --set beside it", "one or the other", mend))
        elif circuits is not None:
            uses = wiring.load_uses(circuits)
        else:
            uses = wiring.typed_uses(kinds, values, Path())
    except InputRefused as refused:
        faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    return ohms, scatter, uses


def _ohm(text: str, faults: list[Fault]) -> float | None:
    try:
        ohm = parse_quantity(text, "resistance")
    except QuantityFault as fault:
        faults.append(Fault("RESISTANCES", fault.found, fault.expected, fault.mend))
        return None
    if not _BELIEVED[0] <= ohm <= _BELIEVED[1]:
        mend = "Check the unit; an open contact is 1 GΩ at most."
        faults.append(Fault("RESISTANCES", f"'{text[:40]}'", "0.1 µΩ to 1 GΩ", mend))
    return ohm


def _spread(text: str, faults: list[Fault]) -> float | None:
    try:
        spread = parse_quantity(text, "ratio")
    except QuantityFault as fault:
        faults.append(Fault("--spread", fault.found, fault.expected, fault.mend))
        return None
    if not 0 < spread <= LARGEST_SPREAD:
        mend = "Give the relative standard deviation of the contacts, such as 20 %."
        faults.append(
            Fault("--spread", f"'{text[:40]}'", f"above 0 % and at most {100 * LARGEST_SPREAD:g} %", mend)
        )
    return spread


def _circuit_files(
    uses: Sequence[UseRequest], ohms: Sequence[float], targets: Targets
) -> tuple[tuple[Path, bytes], ...]:
    """The only circuit for other programs, with the first resistance in every contact."""
    asked = [option for option in (targets.netlist, targets.touchstone) if option is not None]
    if not asked:
        return ()
    if len(uses) != 1:
        option = "--netlist" if targets.netlist else "--touchstone"
        mend = "Name one circuit with --use."
        raise InputRefused((Fault(option, f"{len(uses) or 'every'} circuits", "one circuit", mend),))
    use = make_use(uses[0].kind, uses[0].name, uses[0].values, uses[0].cables, uses[0].lead)
    ohm = ohms[0] if ohms else 0.0
    files: list[tuple[Path, bytes]] = []
    try:
        if targets.netlist is not None:
            files.append((targets.netlist, netlist_of(use, ohm).encode()))
        if targets.touchstone is not None:
            files.append((targets.touchstone, wiring.as_touchstone(*two_port_of(use, ohm))))
    except ArgumentFault as error:
        option = "--touchstone" if targets.netlist is None or files else "--netlist"
        expected = str(error).partition("wanted ")[2]
        raise InputRefused((Fault(option, f"the use '{use.kind}'", expected, "Name another use."),)) from None
    return tuple(files)


def _pictures(folder: Path, files: Sequence[tuple[str, bytes]]) -> tuple[tuple[Path, bytes], ...]:
    """Where the pictures go; the folder is made."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputFault(f"{folder} cannot be made ({error.strerror}); choose another folder.") from None
    return tuple((folder / name, data) for name, data in files)
