"""What the workshop needs before a cable is built: pieces to cut, from which reel, parts, time and price."""

from ohmsworth.cables.workshop.cutting import CutReel, CuttingPlan, Reel, plan_cuts
from ohmsworth.cables.workshop.estimate import Estimate, Prices, estimate
from ohmsworth.cables.workshop.needs import Needs, needs_of
from ohmsworth.cables.workshop.pieces import Pieces, cut_list, wire_cut

__all__ = [
    "CutReel",
    "CuttingPlan",
    "Estimate",
    "Needs",
    "Pieces",
    "Prices",
    "Reel",
    "cut_list",
    "estimate",
    "needs_of",
    "plan_cuts",
    "wire_cut",
]
