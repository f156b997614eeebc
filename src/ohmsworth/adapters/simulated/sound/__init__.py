"""Takes that nobody recorded: a contact, a shunt and an audio interface of which everything is known."""

from ohmsworth.adapters.simulated.sound.chain import simulate
from ohmsworth.adapters.simulated.sound.flaws import Flaws
from ohmsworth.adapters.simulated.sound.interface import AGAINST_RETURN, TAKES, Input, Interface, Take
from ohmsworth.adapters.simulated.sound.invented_chains import any_chain
from ohmsworth.adapters.simulated.sound.truth import TrueContact, TrueShunt, Truth

__all__ = [
    "AGAINST_RETURN",
    "TAKES",
    "Flaws",
    "Input",
    "Interface",
    "Take",
    "TrueContact",
    "TrueShunt",
    "Truth",
    "any_chain",
    "simulate",
]
