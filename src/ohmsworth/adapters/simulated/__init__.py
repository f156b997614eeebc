"""Benches that do not exist: studies of a known truth, for the demonstration and for checks."""

from ohmsworth.adapters.simulated.bench import Mating, Reading, Surface, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.hall import TRUTH, write_hall
from ohmsworth.adapters.simulated.plain import write_plain

__all__ = [
    "TRUTH",
    "Mating",
    "Reading",
    "Surface",
    "Truth",
    "read_bench",
    "rounds",
    "write_hall",
    "write_plain",
]
