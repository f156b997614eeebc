"""The studies of the season: dark connectors of several customers, read before and after what was done to them.

    ln(as found / treated) of a job = ln(ratio of the treatment) + scatter between jobs · z

z is standard normal, new for every job and treatment. So what all jobs know together can be held against the ratio.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from pathlib import Path

import numpy as np

from ohmsworth.adapters.simulated.bench import Mating, Reading, Surface, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.folder import READINGS, STUDY, bench_text, readings_text, write_folder
from ohmsworth.adapters.simulated.season.days import workday

AS_FOUND, CLEANED, EXERCISED, IN_USE = "as found", "cleaned", "exercised", "in use"
#: What each treatment truly does: as found over treated, and by how much its logarithm differs from job to job.
TREATMENTS = {CLEANED: (3.85, 0.08), EXERCISED: (1.6, 0.08)}
SEED = 31
_OPENS = time(9, 30)


@dataclass(frozen=True, slots=True)
class Visit:
    """One job: connectors that somebody brought, or that were read at the customer's.

    Parameters
    ----------
    name
        Of its folder, its job and its specimens.
    back
        Days before the season's last one.
    title, question, story
        What the job is called, what is asked, and the remark above it.
    specimens
        How many connectors.
    treatments
        What was done to them, one after the other.
    found
        Their median as found, ohm.
    plating
        Of their contacts.
    limit
        In milliohm; the shop's own, for connectors in use.
    use
        The circuit that they stand in.
    waiting
        How many of them, the last ones, wait for what is to be done to them.
    """

    name: str
    back: int
    title: str
    question: str
    story: str
    specimens: int
    treatments: tuple[str, ...]
    found: float
    plating: str = "silver"
    limit: str = "5 mΩ"
    use: str = "dynamic microphone"
    waiting: int = 0

    @property
    def serials(self) -> tuple[str, ...]:
        """The connectors by their serials."""
        return tuple(f"{self.name} {number}" for number in range(1, self.specimens + 1))

    @property
    def treated(self) -> tuple[str, ...]:
        """Those to which something was done."""
        return self.serials[: self.specimens - self.waiting]

    @property
    def truth(self) -> Truth:
        """What is true of them."""
        seed = [SEED, *self.name.encode()]
        chance = np.random.default_rng(seed)
        surfaces = {AS_FOUND: Surface(self.found, response=0.08, mating=0.06, reading=0.004)}
        for name in self.treatments:
            ratio, scatter = TREATMENTS[name]
            median = self.found / ratio * math.exp(scatter * chance.standard_normal())
            surfaces[name] = Surface(median, response=0.05, mating=0.05, reading=0.003)
        return Truth(surfaces, specimen=0.06)


VISITS = (
    Visit(
        "club", 338, "A stage box that crackles",
        "The stage box crackles: does working the plugs do, or must they be cleaned?",
        "Five inputs of a club's stage box, read as they came, after twenty times in and out, and after cleaning.",
        5, (EXERCISED, CLEANED), 11.0e-3,
    ),
    Visit(
        "church", 262, "Wall plates of the choir",
        "Do the wall plates of the choir need cleaning?",
        "Four wall plates of a parish church beside the sea, read as found and cleaned.",
        4, (CLEANED,), 8.0e-3,
    ),
    Visit(
        "theatre", 205, "Dark patch points",
        "Which of the dark patch points are worth more than working them in and out?",
        "Five points of a theatre's patch bay, read as found, after twenty times in and out, and cleaned.",
        5, (EXERCISED, CLEANED), 9.5e-3, use="balanced line",
    ),
    Visit(
        "school", 121, "Plugs of the microphone leads",
        "Is it enough to work the plugs of the music school in and out?",
        "Three tinned plugs of a music school's microphone leads.",
        3, (EXERCISED,), 6.4e-3, "tin",
    ),
    Visit(
        "festival", 19, "Stage boxes after the rain",
        "The festival's boxes stood in the rain: clean them all, or only the dark ones?",
        "Four connectors of a festival's stage boxes after a wet summer; the last one waits for its cleaning.",
        4, (CLEANED,), 12.0e-3, waiting=1,
    ),
)  # fmt: skip

#: Jobs whose connectors were read again since: days before the last on which each visit was, and their median then, ohm.
#: Those of the theatre, of an older delivery, tarnish twice as fast as the club's.
AGEING = {
    "club": {252: 3.40e-3, 206: 3.52e-3, 160: 3.66e-3, 116: 3.80e-3, 75: 3.95e-3, 12: 4.18e-3},
    "theatre": {171: 2.52e-3, 122: 2.75e-3, 73: 3.00e-3, 11: 3.35e-3},
    "school": {88: 4.05e-3, 52: 4.15e-3, 14: 4.26e-3},
}
_AGEING_SAID = {
    "club": (
        "Do the club's cleaned inputs stay within their limit?",
        "The club's five inputs, read again and again since they were cleaned.",
    ),
    "theatre": (
        "How fast do the theatre's cleaned points go dark again?",
        "The theatre's five points, read every few weeks since they were cleaned.",
    ),
    "school": (
        "Does what working the plugs gained last?",
        "The school's three tinned plugs, read again since they were worked in and out.",
    ),
}
_STUDY = """\
# Invented, as everything of this shop is: a seeded simulator made it.
#
# {story}

question = "{question}"
{reference}plating = "{plating}"

[limit]
resistance = "{limit}"
source = "the shop's own limit for connectors in use"

[bench]
open_circuit_voltage = "20 mV"

{bench}

[[use]]
kind = "{use}"
"""


def write_visit(folder: Path, visit: Visit, last: date) -> None:
    """Write the study of a visit into `folder`.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    text = readings_text(visit_readings(visit), visit.truth, opening=opening(last, visit.back))
    # With several treatments the cleaned state is what others are held against.
    reference = CLEANED if CLEANED in visit.treatments else visit.treatments[-1]
    said = {"reference": f'reference = "{reference}"\n', "plating": visit.plating, "limit": visit.limit}
    said |= {"story": visit.story, "question": visit.question, "use": visit.use}
    write_folder(folder, {STUDY: _STUDY.format(bench=bench_text(visit.truth), **said), READINGS: text})


def visit_readings(visit: Visit) -> list[Reading]:
    """What the meters showed: one condition after the other, each connector mated twice in each."""
    truth, seed = visit.truth, SEED + visit.back
    plan: list[Mating] = []
    for condition in truth.surfaces:
        serials = visit.serials if condition == AS_FOUND else visit.treated
        plan += rounds([(serial, condition) for serial in serials], 2, 1, seed)
    return read_bench(truth, plan, seed)


def opening(last: date, back: int) -> datetime:
    """When the bench opens on that day; a bench sheet knows no time zone."""
    return datetime.combine(workday(last, back), _OPENS)


def write_ageing(folder: Path, name: str, last: date, visits: int) -> None:
    """Write the study of a job's connectors in use, after so many visits since, into `folder`.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    visit = next(one for one in VISITS if one.name == name)
    surfaces: Mapping[str, Surface] = {
        str(back): Surface(median, response=0.015, mating=0.015, reading=0.003)
        for back, median in AGEING[name].items()
    }
    truth = Truth(surfaces, specimen=0.06)
    backs = list(AGEING[name])
    found: list[Reading] = []
    for reading in read_bench(truth, _rounds_of_visits(visit.serials, backs, last), SEED):
        number = backs.index(int(reading.condition)) + 1
        if number <= visits:
            found.append(replace(reading, condition=IN_USE, mating=number))
    text = readings_text(found, truth, opening=opening(last, backs[0]))
    question, story = _AGEING_SAID[name]
    said = {"reference": "", "plating": visit.plating, "limit": visit.limit, "use": visit.use}
    study = _STUDY.format(bench=bench_text(truth), question=question, story=story, **said)
    write_folder(folder, {STUDY: study, READINGS: text})


def _rounds_of_visits(serials: tuple[str, ...], backs: list[int], last: date) -> list[Mating]:
    """One mating a connector and visit, with the days between two visits as a rest."""
    plan: list[Mating] = []
    for before, back in zip([backs[0], *backs], backs, strict=False):
        days = (workday(last, back) - workday(last, before)).days
        first, *others = rounds([(serial, str(back)) for serial in serials], 1, 2, SEED + back)
        plan += [replace(first, rest=days * 24 * 3600), *others]
    return plan
