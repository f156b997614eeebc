"""A question as it is filled in on a page: every field as typed, blank where nothing is said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class UseForm:
    """A circuit: its kind, a name of its own, and the settings that are not left as they are."""

    kind: str = ""
    name: str = ""
    settings: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class MeterForm:
    """What a meter's maker states, such as "0.5 % + 3 counts" with one count of "1 µV"; `note` names the meter."""

    accuracy: str = ""
    resolution: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class StudyForm:
    """The fields of the form.

    Faults are told by the name of the field; those of a circuit or a meter as "uses.0.length", "voltmeter.accuracy".

    Parameters
    ----------
    question
        In the owner's words.
    conditions
        In the order of treatment.
    reference
        The condition that the others are compared against.
    limit, limit_source, margin
        Resistances with their unit; who says so.
    scale, plating
        "log" or "linear"; a plating that the program knows.
    uses
        The circuits.
    voltmeter, ammeter, ohmmeter
        The meters.
    open_circuit_voltage
        Of the current source.
    frequencies
        At which takes are asked about, each with its unit; the answer stands at the first.
    check_name, check_value, check_uncertainty
        The check standard and its calibration.
    specimens, matings
        Whole numbers: of each condition, of each specimen in each condition.
    reversal
        Whether the current is sent both ways.
    assignment
        "separate", "either order" or "before and after".
    seed
        From which the order is drawn.
    names
        What is written on the specimens, where they are to be called so: one list for all conditions, or one for each. They
        stand on the sheet alone, not in study.toml.
    """

    question: str = ""
    conditions: tuple[str, ...] = ()
    reference: str = ""
    limit: str = ""
    limit_source: str = ""
    margin: str = ""
    scale: str = ""
    plating: str = ""
    uses: tuple[UseForm, ...] = ()
    voltmeter: MeterForm = field(default_factory=MeterForm)
    ammeter: MeterForm = field(default_factory=MeterForm)
    ohmmeter: MeterForm = field(default_factory=MeterForm)
    open_circuit_voltage: str = ""
    frequencies: tuple[str, ...] = ()
    check_name: str = ""
    check_value: str = ""
    check_uncertainty: str = ""
    specimens: str = ""
    matings: str = ""
    reversal: bool = True
    assignment: str = ""
    seed: str = ""
    names: tuple[tuple[str, ...], ...] = ()
