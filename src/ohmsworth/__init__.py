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
    from ohmsworth.report.care.care_answer import CareAnswer
    from ohmsworth.report.care.known_answer import KnownAnswer
    from ohmsworth.report.fitness import FitnessAnswer
    from ohmsworth.report.lot_answer import LotAnswer
    from ohmsworth.report.meaning import MeaningAnswer
    from ohmsworth.report.plan_answer import PlanAnswer
    from ohmsworth.report.takes_answer import TakesAnswer
    from ohmsworth.report.workshop.answer import WorkshopAnswer
    from ohmsworth.resistance import reduce_readings
    from ohmsworth.units import parse_quantity, show
    from ohmsworth.wiring.library import cable, care, known, load_takes, takes, workshop
    from ohmsworth.work.loaded_takes import LoadedTakes
    from ohmsworth.work.ports import LoadedBench, LoadedCable, LoadedNetwork, LoadedStudy

#: Where each name is at home.
_HOME: Mapping[str, str] = {
    "Accuracy": "ohmsworth.readings",
    "Amperes": "ohmsworth.consequence.circuit",
    "Answer": "ohmsworth.report.answer",
    "ArgumentFault": "ohmsworth.errors",
    "Bench": "ohmsworth.readings",
    "Block": "ohmsworth.consequence.circuit",
    "CableAnswer": "ohmsworth.report.cable_answer",
    "Capacitor": "ohmsworth.consequence.circuit",
    "CareAnswer": "ohmsworth.report.care.care_answer",
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
    "LotRequest": "ohmsworth.readings.lot_request",
    "MeaningAnswer": "ohmsworth.report.meaning",
    "Model": "ohmsworth.inference.model",
    "OhmsworthError": "ohmsworth.errors",
    "OutputFault": "ohmsworth.errors",
    "PlanAnswer": "ohmsworth.report.plan_answer",
    "PlanRequest": "ohmsworth.readings.plan_request",
    "QuantityFault": "ohmsworth.errors",
    "ReadingTable": "ohmsworth.readings",
    "Resistor": "ohmsworth.consequence.circuit",
    "Study": "ohmsworth.readings",
    "TakesAnswer": "ohmsworth.report.takes_answer",
    "Transformer": "ohmsworth.consequence.circuit",
    "UnknownName": "ohmsworth.errors",
    "Use": "ohmsworth.consequence",
    "UseRequest": "ohmsworth.readings",
    "VoltageSource": "ohmsworth.consequence.circuit",
    "Volts": "ohmsworth.consequence.circuit",
    "WorkshopAnswer": "ohmsworth.report.workshop.answer",
    "as_json": "ohmsworth.report.answer",
    "at_frequency": "ohmsworth.consequence",
    "cable": "ohmsworth.wiring.library",
    "cable_of": "ohmsworth.consequence.circuit",
    "care": "ohmsworth.wiring.library",
    "conductor_from_text": "ohmsworth.materials",
    "effects": "ohmsworth.consequence",
    "equivalent_length": "ohmsworth.materials",
    "fit_model": "ohmsworth.inference.model",
    "known": "ohmsworth.wiring.library",
    "load_takes": "ohmsworth.wiring.library",
    "magnitude_bands": "ohmsworth.consequence.circuit",
    "make_use": "ohmsworth.consequence",
    "parse_quantity": "ohmsworth.units",
    "plain_resistance": "ohmsworth.consequence.circuit",
    "probability_within": "ohmsworth.inference.conformity",
    "reduce_readings": "ohmsworth.resistance",
    "respond": "ohmsworth.consequence.circuit",
    "settings_of": "ohmsworth.consequence",
    "show": "ohmsworth.units",
    "sign_flips": "ohmsworth.inference.permutation",
    "smallest_threshold": "ohmsworth.consequence",
    "takes": "ohmsworth.wiring.library",
    "thresholds": "ohmsworth.consequence",
    "transfers": "ohmsworth.consequence.circuit",
    "two_groups": "ohmsworth.inference.permutation",
    "workshop": "ohmsworth.wiring.library",
}

__all__ = [
    "Accuracy",
    "Amperes",
    "Answer",
    "ArgumentFault",
    "Bench",
    "Block",
    "CableAnswer",
    "Capacitor",
    "CareAnswer",
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
    "LotRequest",
    "MeaningAnswer",
    "Model",
    "OhmsworthError",
    "OutputFault",
    "PlanAnswer",
    "PlanRequest",
    "QuantityFault",
    "ReadingTable",
    "Resistor",
    "Study",
    "TakesAnswer",
    "Transformer",
    "UnknownName",
    "Use",
    "UseRequest",
    "VoltageSource",
    "Volts",
    "WorkshopAnswer",
    "__version__",
    "answer",
    "as_json",
    "at_frequency",
    "cable",
    "cable_of",
    "care",
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
    "make_use",
    "meaning",
    "parse_quantity",
    "plain_resistance",
    "plan",
    "probability_within",
    "reduce_readings",
    "respond",
    "settings_of",
    "show",
    "sign_flips",
    "smallest_threshold",
    "takes",
    "thresholds",
    "transfers",
    "two_groups",
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


def load_network(path: str | PathLike[str]) -> LoadedNetwork:
    """Read a Touchstone file of one or two ports, as network analysers write it.

    Raises
    ------
    InputRefused
        With every fault of the file in `faults`.
    """
    from pathlib import Path

    from ohmsworth import wiring

    return wiring.load_network(Path(path))


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


def plan(
    study: str | PathLike[str] | Study,
    past: Sequence[str | PathLike[str] | LoadedStudy] = (),
    seed: int = 1,
) -> PlanAnswer:
    """Find the cheapest plan that is likely to settle a question, before anything is read.

    Parameters
    ----------
    study
        The folder's name, of which only ``study.toml`` is read, or a study with a `plan`.
    past
        Past studies, from which the scatter is taken.
    seed
        From which the bench sheet is drawn.

    Raises
    ------
    InputRefused
        When something that the plan needs is missing or at fault.
    """
    from pathlib import Path

    from ohmsworth import wiring
    from ohmsworth.readings import Study
    from ohmsworth.work.plan_study import plan_study
    from ohmsworth.work.ports import LoadedStudy

    question = study if isinstance(study, Study) else wiring.load_question(Path(study))
    before = [
        (one.study.question, one) if isinstance(one, LoadedStudy) else (Path(one).name, load_study(one))
        for one in past
    ]
    return plan_study(question, before, seed)


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
