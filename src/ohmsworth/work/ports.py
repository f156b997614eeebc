"""What the use cases need from outside; adapters implement it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.report.document import Document


@dataclass(frozen=True, slots=True, eq=False)
class LoadedStudy:
    """A study as read: its question, its readings, and the headings of columns that were not used."""

    study: Study
    table: ReadingTable
    unused: tuple[str, ...]


#: Reads a study folder; raises InputRefused with every fault.
LoadStudy = Callable[[Path], LoadedStudy]
#: Draws a document.
RenderText = Callable[[Document], str]
RenderPage = Callable[[Document], str]
RenderPdf = Callable[[Document, datetime], bytes]
