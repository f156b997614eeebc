"""The folder that a cable of the records is exported as: what it is answered from."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from ohmsworth.work.builds.log import CableState
from ohmsworth.work.cable_ports import WrittenRow

CABLE, TEST = "cable.toml", "test.csv"


@dataclass(frozen=True, slots=True)
class BuiltFolder:
    """What a cable's folder holds: description, what was measured (None: nothing yet), papers by the names of their files."""

    toml: str
    test: bytes | None = None
    papers: Mapping[str, bytes] = field(default_factory=dict)


def folder_files(state: CableState, test_csv: Callable[[Sequence[WrittenRow]], bytes]) -> dict[str, bytes]:
    """Its files by name; there is no test.csv before anything was measured."""
    files = {CABLE: state.toml.encode()}
    return files | ({TEST: test_csv(state.written)} if state.counted else {})


def texts_of(state: CableState, test_csv: Callable[[Sequence[WrittenRow]], bytes]) -> dict[str, str]:
    """Their texts: what a paper is compared with."""
    return {name: data.decode() for name, data in folder_files(state, test_csv).items()}
