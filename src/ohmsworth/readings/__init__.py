"""What was read: readings, meters, the study they belong to, and doubts about them."""

from ohmsworth.readings.check import CheckStandard
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.lot_request import LotRequest
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.plan_request import PlanRequest
from ohmsworth.readings.study import Bench, Limit, Study, UseRequest
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED, Labels, ReadingTable

__all__ = [
    "FORWARD",
    "OFF",
    "REVERSED",
    "UNSTATED",
    "Accuracy",
    "Bench",
    "CheckStandard",
    "Doubt",
    "Labels",
    "Limit",
    "LotRequest",
    "PlanRequest",
    "ReadingTable",
    "Study",
    "UseRequest",
]
