"""What was read: readings, meters, the study they belong to, and doubts about them."""

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.study import Bench, Limit, Study, UseRequest
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED, Labels, ReadingTable

__all__ = [
    "FORWARD",
    "OFF",
    "REVERSED",
    "UNSTATED",
    "Accuracy",
    "Bench",
    "Doubt",
    "Labels",
    "Limit",
    "ReadingTable",
    "Study",
    "UseRequest",
]
