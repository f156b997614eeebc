"""What the use cases need of whatever reads sound files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from ohmsworth.resistance.impedance.recording import Recording

#: Opens a take: one file of two inputs or two files of one each, and the numbers of the channels where there are more.
#: Raises InputRefused with every fault; reading raises it where a block is damaged.
OpenRecording = Callable[[Sequence[Path], tuple[int, int] | None], Recording]
