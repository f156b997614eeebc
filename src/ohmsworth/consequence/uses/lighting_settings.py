"""The settings of a lighting control line."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from ohmsworth.consequence.use import Setting, Use, number, text
from ohmsworth.consequence.uses.cables import (
    CONDUCTOR,
    CORE_CORE,
    CORE_SCREEN,
    INDUCTANCE,
    LENGTH,
    LOSS_TANGENT,
    SCREEN_RESISTANCE,
    TEMPERATURE,
    core,
    pair_alone,
)
from ohmsworth.consequence.uses.fast_line import check_line
from ohmsworth.errors import ArgumentFault

#: Hertz up to which the circuit is believed.
HIGHEST = 50e6
#: Unit loads that one driver may have.
MOST_UNIT_LOADS = 32
#: Where receivers stand, and where the line is terminated.
FAR_END, ALONG = "far end", "along"
BOTH_ENDS, NONE = "both ends", "none"

# One line a setting reads better than one line a value.
# fmt: off
_DESK = (
    Setting("driver_volts", "Ud", "voltage", 1.5, "volts that the driver gives into its rated load, either way",
            "RS485", 0.1, 6.0),
    Setting("driver_load", "Rd", "resistance", 54.0, "load for which they are stated", "RS485", 1.0, 1e4),
    Setting("driver_resistance", "Ro", "resistance", 40.0,
            "output resistance of the driver, both conductors together", "practice", 0.0, 1e3),
    Setting("bit_time", "Tb", "time", 4e-6, "time of a bit: 4 µs at 250 kbit/s", "E1.11", 0.5e-6, 1e-3),
    Setting("rise_time", "tr", "time", 250e-9, "rise time of the driver's edges, 10 to 90 %", "practice", 20e-9, 1e-4),
)
_CHAIN = (
    Setting("receivers", "N", "number", 16.0, "receivers on the line", "practice", 1.0, 256.0),
    Setting("unit_load", "u", "text", "1", "load of each of them, in unit loads", "RS485",
            choices=("1", "1/2", "1/4", "1/8")),
    Setting("unit_resistance", "Ru", "resistance", 12e3, "resistance of a unit load", "RS485", 100.0, 1e7),
    Setting("receiver_capacitance", "Cr", "capacitance", 50e-12,
            "capacitance of each receiver with its sockets and stub", "practice", 0.0, 1e-7),
    Setting("receivers_stand", "P", "text", FAR_END,
            "where they are reckoned: all at the far end, or half of them in the middle", "practice", choices=(FAR_END, ALONG)),
    Setting("joints", "n", "number", 32.0,
            "contacts in each conductor from desk to last receiver, in a row: two for each cable", "practice", 1.0, 1e3),
    Setting("termination", "Rt", "resistance", 120.0, "terminating resistor", "E1.11", 1.0, 1e4),
    Setting("terminated", "T", "text", FAR_END, "where there is one", "E1.11", choices=(FAR_END, BOTH_ENDS, NONE)),
)
_CABLE = (
    replace(LENGTH, default=150.0, highest=2e3, words="length of all cable from desk to last receiver"),
    CONDUCTOR,
    replace(CORE_CORE, default=12e-12),
    replace(CORE_SCREEN, default=60e-12),
    replace(INDUCTANCE, default=0.57e-6, lowest=1e-9),
    replace(LOSS_TANGENT, default=1e-3),
    SCREEN_RESISTANCE,
    TEMPERATURE,
)
_RECEIVER = (
    Setting("receiver_threshold", "Uth", "voltage", 0.2,
            "volts either way at which a receiver is sure of a bit", "RS485", 1e-3, 5.0),
    Setting("reserve", "Ures", "voltage", 0.2,
            "volts above them that are kept for noise and for what is on the line besides", "practice", 0.0, 5.0),
    Setting("window", "w", "ratio", 0.4,
            "part of a bit, about its middle, in which it may be looked at: clocks differ by 2 %, for ten bits in a row",
            "practice", 0.0, 0.9),
)
_COMMON = (
    Setting("driver_common", "Ucm", "voltage", 2.5,
            "middle of the two data conductors at the desk, against its common", "practice", -20.0, 20.0),
    Setting("common_low", "Ulow", "voltage", -7.0, "lowest common-mode voltage of a receiver", "RS485", -100.0, 0.0),
    Setting("common_high", "Uhigh", "voltage", 12.0, "highest common-mode voltage of a receiver", "RS485", 0.0, 100.0),
    Setting("ground_voltage", "Ug", "voltage", 115.0,
            "voltage behind that current with the screen open: half of the mains, where it leaks by capacitors both ways",
            "practice", 1.0, 400.0),
    Setting("ground_current", "Ig", "current", 50e-3,
            "largest current that comes back through the screen: leakage of equipment without another earth, or what "
            "different earths drive", "practice", 0.0, 100.0),
)
# fmt: on
LIGHTING_SETTINGS: tuple[Setting, ...] = _DESK + _CHAIN + _CABLE + _RECEIVER + _COMMON


def unit_loads(use: Use) -> float:
    """What all receivers are together."""
    return number(use, "receivers") * float(Fraction(text(use, "unit_load")))


def driver_emf(use: Use) -> float:
    """Volts of the driver with nothing on it, either way: Ud (Rd + Ro)/Rd."""
    load = number(use, "driver_load")
    return number(use, "driver_volts") * (load + number(use, "driver_resistance")) / load


def check_lighting(use: Use) -> None:
    """Refuse settings that do not make a lighting control line together."""
    if unit_loads(use) > MOST_UNIT_LOADS:
        wanted = f"at most {MOST_UNIT_LOADS} unit loads on one line: split it"
        raise ArgumentFault("receivers", use.settings["receivers"], wanted)
    if number(use, "rise_time") > number(use, "bit_time") / 2:
        raise ArgumentFault("rise_time", use.settings["rise_time"], "at most half the time of a bit")
    low, high = number(use, "common_low"), number(use, "common_high")
    if not low < number(use, "driver_common") < high:
        raise ArgumentFault("driver_common", use.settings["driver_common"], f"between {low:g} and {high:g} V")
    core(use)
    check_line(use, pair_alone(use), 2 * HIGHEST)
