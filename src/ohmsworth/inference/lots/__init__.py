"""Lots: how many to draw, when to accept, what the plan risks, and how strictly the next lot is looked at."""

from ohmsworth.inference.lots.attributes import (
    DoublePlan,
    SinglePlan,
    accept_double,
    accept_single,
    average_sample,
    design_double,
    design_single,
    largest_accepted,
)
from ohmsworth.inference.lots.published import QUALITY_LIMITS, published_plan
from ohmsworth.inference.lots.shares import share_bounds, share_estimate, share_upper_bound
from ohmsworth.inference.lots.switching import Inspection, inspection_after, stepped
from ohmsworth.inference.lots.variables import (
    VariablesPlan,
    accept_variables,
    acceptability_constant,
    design_variables,
)

__all__ = [
    "QUALITY_LIMITS",
    "DoublePlan",
    "Inspection",
    "SinglePlan",
    "VariablesPlan",
    "accept_double",
    "accept_single",
    "accept_variables",
    "acceptability_constant",
    "average_sample",
    "design_double",
    "design_single",
    "design_variables",
    "inspection_after",
    "largest_accepted",
    "published_plan",
    "share_bounds",
    "share_estimate",
    "share_upper_bound",
    "stepped",
]
