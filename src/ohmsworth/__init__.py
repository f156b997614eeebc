"""What a milliohm is worth: from readings of a contact to what it does in the circuit.

Everything that the commands do, for other programs: ``import ohmsworth as ow``. Quantities are floats or numpy arrays
in SI base units. Names are looked up when they are first used, so that the import itself is quick.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module
from os import PathLike
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from ohmsworth.consequence import (
        Use,
        at_frequency,
        effects,
        make_use,
        settings_of,
        smallest_threshold,
        thresholds,
    )
    from ohmsworth.consequence.circuit import (
        Amperes,
        Block,
        Capacitor,
        Circuit,
        Contact,
        CurrentSource,
        Impedance,
        Inductor,
        Line,
        Resistor,
        Transformer,
        VoltageSource,
        Volts,
        cable_of,
        magnitude_bands,
        plain_resistance,
        respond,
        transfers,
    )
    from ohmsworth.errors import (
        ArgumentFault,
        Fault,
        InputRefused,
        OhmsworthError,
        OutputFault,
        QuantityFault,
        UnknownName,
    )
    from ohmsworth.inference.conformity import probability_within
    from ohmsworth.inference.model import Model, fit_model
    from ohmsworth.inference.permutation import sign_flips, two_groups
    from ohmsworth.materials import conductor_from_text, equivalent_length
    from ohmsworth.readings import Accuracy, Bench, Labels, Limit, ReadingTable, Study, UseRequest
    from ohmsworth.readings.check import CheckStandard
    from ohmsworth.readings.lot_request import LotRequest
    from ohmsworth.readings.plan_request import PlanRequest
    from ohmsworth.report.answer import Answer, as_json
    from ohmsworth.report.cable_answer import CableAnswer
    from ohmsworth.report.care.ageing_answer import AgeingAnswer
    from ohmsworth.report.care.care_answer import CareAnswer
    from ohmsworth.report.care.known_answer import KnownAnswer
    from ohmsworth.report.fitness import FitnessAnswer
    from ohmsworth.report.lot_answer import LotAnswer
    from ohmsworth.report.meaning import MeaningAnswer
    from ohmsworth.report.papers.certificate import Certificate
    from ohmsworth.report.papers.lot_certificate import LotCertificate
    from ohmsworth.report.papers.service_card import CableService, SpecimenService
    from ohmsworth.report.papers.verification import VerificationAnswer
    from ohmsworth.report.plan_answer import PlanAnswer
    from ohmsworth.report.takes_answer import TakesAnswer
    from ohmsworth.report.workshop.answer import WorkshopAnswer
    from ohmsworth.resistance import reduce_readings
    from ohmsworth.units import parse_quantity, show
    from ohmsworth.wiring.library import (
        ageing,
        cable,
        care,
        known,
        load_network,
        load_takes,
        plan,
        service_card,
        takes,
        workshop,
    )
    from ohmsworth.wiring.library_papers import certify, make_key, papers, verify
    from ohmsworth.wiring.paper_files import Certified, Printed
    from ohmsworth.work.loaded_takes import LoadedTakes
    from ohmsworth.work.ports import LoadedBench, LoadedCable, LoadedNetwork, LoadedStudy

#: Where each name is at home.
_HOME: Mapping[str, str] = {
    "Accuracy": "ohmsworth.readings",
    "AgeingAnswer": "ohmsworth.report.care.ageing_answer",
    "Amperes": "ohmsworth.consequence.circuit",
    "Answer": "ohmsworth.report.answer",
    "ArgumentFault": "ohmsworth.errors",
    "Bench": "ohmsworth.readings",
    "Block": "ohmsworth.consequence.circuit",
    "CableAnswer": "ohmsworth.report.cable_answer",
    "CableService": "ohmsworth.report.papers.service_card",
    "Capacitor": "ohmsworth.consequence.circuit",
    "CareAnswer": "ohmsworth.report.care.care_answer",
    "Certificate": "ohmsworth.report.papers.certificate",
    "Certified": "ohmsworth.wiring.paper_files",
    "CheckStandard": "ohmsworth.readings.check",
    "Circuit": "ohmsworth.consequence.circuit",
    "Contact": "ohmsworth.consequence.circuit",
    "CurrentSource": "ohmsworth.consequence.circuit",
    "Fault": "ohmsworth.errors",
    "FitnessAnswer": "ohmsworth.report.fitness",
    "Impedance": "ohmsworth.consequence.circuit",
    "Inductor": "ohmsworth.consequence.circuit",
    "InputRefused": "ohmsworth.errors",
    "KnownAnswer": "ohmsworth.report.care.known_answer",
    "Labels": "ohmsworth.readings",
    "Limit": "ohmsworth.readings",
    "Line": "ohmsworth.consequence.circuit",
    "LoadedBench": "ohmsworth.work.ports",
    "LoadedCable": "ohmsworth.work.ports",
    "LoadedNetwork": "ohmsworth.work.ports",
    "LoadedStudy": "ohmsworth.work.ports",
    "LoadedTakes": "ohmsworth.work.loaded_takes",
    "LotAnswer": "ohmsworth.report.lot_answer",
    "LotCertificate": "ohmsworth.report.papers.lot_certificate",
    "LotRequest": "ohmsworth.readings.lot_request",
    "MeaningAnswer": "ohmsworth.report.meaning",
    "Model": "ohmsworth.inference.model",
    "OhmsworthError": "ohmsworth.errors",
    "OutputFault": "ohmsworth.errors",
    "PlanAnswer": "ohmsworth.report.plan_answer",
    "PlanRequest": "ohmsworth.readings.plan_request",
    "Printed": "ohmsworth.wiring.paper_files",
    "QuantityFault": "ohmsworth.errors",
    "ReadingTable": "ohmsworth.readings",
    "Resistor": "ohmsworth.consequence.circuit",
    "SpecimenService": "ohmsworth.report.papers.service_card",
    "Study": "ohmsworth.readings",
    "TakesAnswer": "ohmsworth.report.takes_answer",
    "Transformer": "ohmsworth.consequence.circuit",
    "UnknownName": "ohmsworth.errors",
    "Use": "ohmsworth.consequence",
    "UseRequest": "ohmsworth.readings",
    "VerificationAnswer": "ohmsworth.report.papers.verification",
    "VoltageSource": "ohmsworth.consequence.circuit",
    "Volts": "ohmsworth.consequence.circuit",
    "WorkshopAnswer": "ohmsworth.report.workshop.answer",
    "ageing": "ohmsworth.wiring.library",
    "as_json": "ohmsworth.report.answer",
    "at_frequency": "ohmsworth.consequence",
    "cable": "ohmsworth.wiring.library",
    "cable_of": "ohmsworth.consequence.circuit",
    "care": "ohmsworth.wiring.library",
    "certify": "ohmsworth.wiring.library_papers",
    "conductor_from_text": "ohmsworth.materials",
    "effects": "ohmsworth.consequence",
    "equivalent_length": "ohmsworth.materials",
    "fit_model": "ohmsworth.inference.model",
    "known": "ohmsworth.wiring.library",
    "load_network": "ohmsworth.wiring.library",
    "load_takes": "ohmsworth.wiring.library",
    "magnitude_bands": "ohmsworth.consequence.circuit",
    "make_key": "ohmsworth.wiring.library_papers",
    "make_use": "ohmsworth.consequence",
    "papers": "ohmsworth.wiring.library_papers",
    "parse_quantity": "ohmsworth.units",
    "plain_resistance": "ohmsworth.consequence.circuit",
    "plan": "ohmsworth.wiring.library",
    "probability_within": "ohmsworth.inference.conformity",
    "reduce_readings": "ohmsworth.resistance",
    "respond": "ohmsworth.consequence.circuit",
    "service_card": "ohmsworth.wiring.library",
    "settings_of": "ohmsworth.consequence",
    "show": "ohmsworth.units",
    "sign_flips": "ohmsworth.inference.permutation",
    "smallest_threshold": "ohmsworth.consequence",
    "takes": "ohmsworth.wiring.library",
    "thresholds": "ohmsworth.consequence",
    "transfers": "ohmsworth.consequence.circuit",
    "two_groups": "ohmsworth.inference.permutation",
    "verify": "ohmsworth.wiring.library_papers",
    "workshop": "ohmsworth.wiring.library",
}

__all__ = [
    "Accuracy",
    "AgeingAnswer",
    "Amperes",
    "Answer",
    "ArgumentFault",
    "Bench",
    "Block",
    "CableAnswer",
    "CableService",
    "Capacitor",
    "CareAnswer",
    "Certificate",
    "Certified",
    "CheckStandard",
    "Circuit",
    "Contact",
    "CurrentSource",
    "Fault",
    "FitnessAnswer",
    "Impedance",
    "Inductor",
    "InputRefused",
    "KnownAnswer",
    "Labels",
    "Limit",
    "Line",
    "LoadedBench",
    "LoadedCable",
    "LoadedNetwork",
    "LoadedStudy",
    "LoadedTakes",
    "LotAnswer",
    "LotCertificate",
    "LotRequest",
    "MeaningAnswer",
    "Model",
    "OhmsworthError",
    "OutputFault",
    "PlanAnswer",
    "PlanRequest",
    "Printed",
    "QuantityFault",
    "ReadingTable",
    "Resistor",
    "SpecimenService",
    "Study",
    "TakesAnswer",
    "Transformer",
    "UnknownName",
    "Use",
    "UseRequest",
    "VerificationAnswer",
    "VoltageSource",
    "Volts",
    "WorkshopAnswer",
    "__version__",
    "ageing",
    "answer",
    "as_json",
    "at_frequency",
    "cable",
    "cable_of",
    "care",
    "certify",
    "conductor_from_text",
    "effects",
    "equivalent_length",
    "fit_model",
    "fitness",
    "from_arrays",
    "known",
    "load_network",
    "load_study",
    "load_takes",
    "lot",
    "magnitude_bands",
    "make_key",
    "make_use",
    "meaning",
    "papers",
    "parse_quantity",
    "plain_resistance",
    "plan",
    "probability_within",
    "reduce_readings",
    "respond",
    "service_card",
    "settings_of",
    "show",
    "sign_flips",
    "smallest_threshold",
    "takes",
    "thresholds",
    "transfers",
    "two_groups",
    "verify",
    "workshop",
]


def __getattr__(name: str) -> Any:
    """Look a public name up where it is at home (PEP 562)."""
    if name == "__version__":
        from importlib.metadata import version

        found: Any = version("ohmsworth")
    elif name in _HOME:
        found = getattr(import_module(_HOME[name]), name)
    else:
        raise AttributeError(f"module 'ohmsworth' has no attribute {name!r}")
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})


def load_study(folder: str | PathLike[str]) -> LoadedStudy:
    """Read a study folder (``study.toml`` and ``readings.csv``).

    Raises
    ------
    InputRefused
        With every fault of both files in `faults`.
    """
    from pathlib import Path

    from ohmsworth import wiring

    return wiring.load_study(Path(folder))


def answer(study: str | PathLike[str] | LoadedStudy) -> Answer:
    """Answer a study: the folder's name, or what `load_study` or `from_arrays` gave.

    Raises
    ------
    InputRefused
        When the folder or the readings cannot be used as they are.
    """
    from ohmsworth.work.answer_study import answer_study
    from ohmsworth.work.ports import LoadedStudy

    return answer_study(study if isinstance(study, LoadedStudy) else load_study(study))


def lot(study: str | PathLike[str] | Study | LoadedStudy) -> LotAnswer:
    """Plan how to sample a lot, or judge it once its sample is measured.

    Parameters
    ----------
    study
        The folder's name; a study with a `lot` and a `limit`, for its plan; or such a study with its readings, for the
        verdict.

    Raises
    ------
    InputRefused
        When the folder is at fault, or no plan holds the risks.
    ArgumentFault
        When the study has no lot or no limit.
    """
    from pathlib import Path

    from ohmsworth import wiring
    from ohmsworth.readings import Study
    from ohmsworth.work.lot_study import lot_study
    from ohmsworth.work.ports import LoadedLot, LoadedStudy

    if isinstance(study, LoadedStudy):
        return lot_study(LoadedLot(study.study, study))
    return lot_study(LoadedLot(study, None) if isinstance(study, Study) else wiring.load_lot(Path(study)))


def fitness(bench: str | PathLike[str] | LoadedStudy | LoadedBench) -> FitnessAnswer:
    """Say whether the bench is fit today, and what it can tell.

    Parameters
    ----------
    bench
        The folder's name (``study.toml`` with ``check.csv``, ``readings.csv``, or both); a `LoadedBench`; or a study
        with its readings from `load_study` or `from_arrays`, whose contacts are then taken for a repeatability study and
        whose rows under the check standard's name for checks.

    Returns
    -------
    FitnessAnswer
        The verdict "fit today" or "look first" with its reasons, the charts, repeatability and reproducibility, what a contact
        near the limit will be told, the smallest difference, and the budget; in ohm. None where nothing is known.

    Raises
    ------
    InputRefused
        When the folder or the readings cannot be used as they are.
    """
    from pathlib import Path

    from ohmsworth import wiring
    from ohmsworth.work.fitness_study import fitness_study
    from ohmsworth.work.ports import LoadedBench, LoadedStudy

    if isinstance(bench, LoadedStudy):
        bench = LoadedBench(bench.study, bench.table, bench.checks, bench.unused)
    return fitness_study(bench if isinstance(bench, LoadedBench) else wiring.load_bench(Path(bench)))


def meaning(
    resistances: Sequence[float] = (),
    uses: Sequence[str | UseRequest | Use] = (),
    spread: float | None = None,
) -> MeaningAnswer:
    """Say what contacts of each of `resistances` do in circuits, and how bad they would have to be: no study needed.

    Parameters
    ----------
    resistances
        Ohm of each contact, above 0 and at most 1 GΩ, up to six; none asks for the thresholds alone.
    uses
        Kinds as text (``"balanced line"``), what `make_use` made, or a `UseRequest`; every kind when there are none.
    spread
        Standard deviation of the logarithm by which contacts scatter about each resistance: curves then have bands.

    Raises
    ------
    ArgumentFault
        For a resistance, a spread or a value that cannot be.
    UnknownName
        For a kind, a key or a cable that does not exist.
    """
    from ohmsworth.work.meaning import explain

    return explain(uses, resistances, spread)


def from_arrays(
    study: Study,
    *,
    specimen: Sequence[str],
    condition: Sequence[str] | None = None,
    contact: Sequence[str] | None = None,
    mating: Sequence[str] | None = None,
    plug: Sequence[str] | None = None,
    socket: Sequence[str] | None = None,
    polarity: ArrayLike | None = None,
    voltage: ArrayLike | None = None,
    current: ArrayLike | None = None,
    resistance: ArrayLike | None = None,
    time: ArrayLike | None = None,
    temperature: ArrayLike | None = None,
    operator: Sequence[str] | None = None,
    further: Mapping[str, Sequence[str]] | None = None,
) -> LoadedStudy:
    """Put readings that are in memory beside a study, one entry a reading.

    Parameters
    ----------
    study
        The question, limit, meters and uses.
    specimen, condition, contact, mating, plug, socket, operator
        Names; a condition that is left out is "all". Only `fitness` asks for operators.
    polarity
        1 forward, −1 reversed, 0 current off, 2 not stated; left out, it follows the sign of the current.
    voltage, current
        Volt and ampere, signed as the polarity says.
    resistance
        Ohm, instead of `voltage` and `current`.
    time, temperature
        Seconds from the first reading, kelvin; NaN where not known.
    further
        Columns that the study names in `factors` or `scatter_by` beyond these: ``plug condition``, ``operator``.

    Raises
    ------
    ArgumentFault
        For columns of unequal length, readings that are no numbers, a current of zero that is not stated to be off,
        one specimen a condition in a comparison, a reference that is no condition, or a condition of which no reading is left.
    """
    from ohmsworth.readings.arrays import asked_table, table_of
    from ohmsworth.readings.check_standard import checks_of, split_check_standard
    from ohmsworth.work.ports import LoadedStudy

    names = {
        "specimen": specimen, "condition": condition, "contact": contact, "mating": mating, "plug": plug,
        "socket": socket, "operator": operator,
    }  # fmt: skip
    numbers = {
        "voltage": voltage, "current": current, "resistance": resistance, "time": time,
        "temperature": temperature,
    }  # fmt: skip
    whole = table_of(names, numbers, polarity, further)
    table, rows = split_check_standard(whole, study.check.name)
    table = asked_table(study, table)
    checks = () if rows is None else (checks_of(whole.take(rows)),)
    return LoadedStudy(study, table, (), checks)
