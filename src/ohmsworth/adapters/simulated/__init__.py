"""Benches that do not exist: studies of a known truth, for the demonstration and for checks; instruments for practice."""

from ohmsworth.adapters.simulated.bench import Mating, Reading, Surface, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.cable import write_cable
from ohmsworth.adapters.simulated.earlier import write_earlier
from ohmsworth.adapters.simulated.hall import TRUTH, write_hall
from ohmsworth.adapters.simulated.plain import write_plain
from ohmsworth.adapters.simulated.scpi_bench import Contact, ScpiBench
from ohmsworth.adapters.simulated.scpi_server import PracticeBench
from ohmsworth.adapters.simulated.shop import write_next_hall, write_shop_bench, write_shop_lot
from ohmsworth.adapters.simulated.taken import write_taken
from ohmsworth.adapters.simulated.tarnished import write_tarnished

__all__ = [
    "TRUTH",
    "Contact",
    "Mating",
    "PracticeBench",
    "Reading",
    "ScpiBench",
    "Surface",
    "Truth",
    "read_bench",
    "rounds",
    "write_cable",
    "write_earlier",
    "write_hall",
    "write_next_hall",
    "write_plain",
    "write_shop_bench",
    "write_shop_lot",
    "write_taken",
    "write_tarnished",
]
