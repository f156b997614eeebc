"""The figures on a cable's face: what a season counts and follows, worked out of the same answer as its verdict.

| figure | is |
|---|---|
| `day` | the day of the last row that counts, where the bench stands |
| `rows`, `wires` | how many rows count, and how many wires the cable has |
| `over`, `under`, `open` | wires above and below their bounds, and without a path, as measured last |
| `first` | the verdict of the first complete test; None while there is none |
| `faults` | what was wrong then, each kind once |
| `connectors`, `conductors` | as described: how many wires were read, and the median ratio of reading to expected |

The first complete test is told by `complete_tests.py`.
"""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Iterable, Mapping
from statistics import median
from typing import Any

from ohmsworth.cables.tested import LOST, UNDER
from ohmsworth.errors import InputRefused
from ohmsworth.inference.conformity import OVER
from ohmsworth.report.cable_answer import WRONG, CableAnswer
from ohmsworth.work.builds.complete_tests import complete_tests
from ohmsworth.work.builds.log import CableState
from ohmsworth.work.builds.teller import Teller


def figures_of(teller: Teller, state: CableState) -> dict[str, Any]:
    """The figures; empty before anything is measured, and where the folder cannot be read."""
    if not state.counted:
        return {}
    try:
        answer = teller.answer(state.toml, state.written)
        first = next((one for _, one in complete_tests(teller, state.toml, state.written)), None)
    except InputRefused:
        return {}
    verdicts = [wire.verdict for wire in answer.wires]
    return {
        "day": state.counted[-1].at.astimezone().date().isoformat(),
        "rows": len(state.counted),
        "wires": len(answer.wires),
        "over": verdicts.count(OVER),
        "under": verdicts.count(UNDER),
        "open": verdicts.count(LOST),
        "first": None if first is None else first.verdict,
        "faults": [] if first is None else _faults(first),
        "connectors": _ratios(_by_connector(answer)),
        "conductors": _ratios(_by_conductor(answer, state.toml)),
    }


def _faults(answer: CableAnswer) -> list[str]:
    """Kinds of what is wrong; a wire outside of its bounds is over or under."""
    if answer.verdict != WRONG:
        return []
    bounds = {wire.verdict for wire in answer.wires} & {OVER, UNDER}
    return sorted({fault.kind for fault in answer.faults} | {str(verdict) for verdict in bounds})


def _read(answer: CableAnswer) -> Iterable[tuple[str, str, str, float]]:
    """Start, stop, kind and ratio of every wire that was read and is its own alone."""
    for wire in answer.wires:
        if wire.resistance is not None and not wire.together and wire.usual > 0:
            yield wire.start, wire.stop, wire.kind, wire.resistance / wire.usual


def _by_connector(answer: CableAnswer) -> Mapping[str, list[float]]:
    """A wire counts for the connectors at both its ends, once where they are the same."""
    called = {end.name: " ".join(end.connector.split()) for end in answer.ends}
    found = defaultdict(list)
    for start, stop, _, ratio in _read(answer):
        for name in {called[place.partition(":")[0]] for place in (start, stop)} - {""}:
            found[name].append(ratio)
    return found


def _by_conductor(answer: CableAnswer, toml: str) -> Mapping[str, list[float]]:
    """By what the description says of each kind: its own name for it may mean another wire in the next cable."""
    kinds = tomllib.loads(toml).get("kinds", {})
    called = {name: str(kind.get("conductor", kind.get("resistance", name))) for name, kind in kinds.items()}
    found = defaultdict(list)
    for _, _, kind, ratio in _read(answer):
        found[" ".join(called.get(kind, kind).split())].append(ratio)
    return found


def _ratios(found: Mapping[str, list[float]]) -> dict[str, list[float]]:
    """How many, and their median to six digits; no text of these may hold what no database takes."""
    return {
        name.replace("\0", "\ufffd"): [len(ratios), float(f"{median(ratios):.6g}")]
        for name, ratios in sorted(found.items())
    }
