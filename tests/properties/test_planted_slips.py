"""How often honest readings are asked about before they are accepted, and how often planted slips are: seeded benches."""

import random
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.judged import LIMIT, bench_entries, plan_of, study_of

from ohmsworth.adapters.simulated import TRUTH, Mating, Surface, Truth
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.explained import moved
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.study import Study
from ohmsworth.work.judge_entry import judge_entry

#: A tenth of the usual current, so that a thermal EMF is a tenth of the voltage.
WEAK = Truth(
    {"dark": Surface(9e-3, 0.1, 0.07, 0.006), "new": Surface(3e-3, 0.05, 0.07, 0.005)},
    current=0.01,
    ammeter=Accuracy(0.002, 3, 1e-6),
)
#: Contacts that differ by half, and matings by a third.
WIDE = Truth({"dark": Surface(9e-3, 0.4, 0.3, 0.03), "new": Surface(2.3e-3, 0.1, 0.15, 0.01)}, specimen=0.25)
BENCHES = {"hall": TRUTH, "weak": WEAK, "wide": WIDE}

Slip = Callable[[Entry, random.Random], Entry]


def studies(truth: Truth, draws: int, unsigned: bool = True) -> list[tuple[Study, list[Entry]]]:
    """Seeded bench sheets: with and without a limit, with one pair a mating or two, some without signs."""
    return [
        (
            study_of(truth, LIMIT if seed % 3 else None),
            bench_entries(
                truth, plan_of(truth, 5, 2, 1 + seed % 2, seed), seed, signed=not (unsigned and seed % 4 == 3)
            ),
        )
        for seed in range(draws)
    ]


def asked(study: Study, entries: list[Entry], k: int, entry: Entry) -> bool:
    return not judge_entry(study, entries[:k], entry).accepted


@pytest.mark.parametrize("bench", list(BENCHES))
def test_honest_readings_are_hardly_ever_asked_about(bench: str) -> None:
    """Found: none of 1580."""
    drawn = studies(BENCHES[bench], 6 if bench == "hall" else 9)
    found = [asked(study, entries, k, e) for study, entries in drawn for k, e in enumerate(entries)]
    assert len(found) > 500
    assert sum(found) / len(found) < 0.01


def powers(field: str, *sizes: int) -> Slip:
    def slip(entry: Entry, rng: random.Random) -> Entry:
        return replace(entry, **{field: moved(getattr(entry, field), -rng.choice(sizes))})

    return slip


def exchanged(entry: Entry, rng: random.Random) -> Entry:
    volts, amperes = entry.voltage, entry.current
    assert volts is not None
    assert amperes is not None
    return replace(
        entry, voltage=replace(volts, text=amperes.text), current=replace(amperes, text=volts.text)
    )


def wrong_sign(entry: Entry, rng: random.Random) -> Entry:
    assert entry.voltage is not None
    text = entry.voltage.text
    other = text[1:] if text.startswith("-") else f"-{text}"
    return replace(entry, voltage=replace(entry.voltage, text=other))


def two_wire(entry: Entry, rng: random.Random) -> Entry:
    """With leads of 50 mΩ to 2 Ω in it."""
    assert entry.voltage is not None
    assert entry.current is not None
    lead = 0.05 * 40 ** rng.random()
    volts = abs(entry.voltage.value) + lead * abs(entry.current.value)
    sign = "-" if entry.voltage.text.startswith("-") else ""
    return replace(entry, voltage=Typed(f"{sign}{1e3 * volts:.4f}", "mV", "voltage"))


SLIPS: dict[str, Slip] = {
    "voltage by ten": powers("voltage", -1, 1),
    "voltage by a hundred or a thousand": powers("voltage", -3, -2, 2, 3),
    "current by ten": powers("current", -1, 1),
    "current by a hundred or a thousand": powers("current", -3, -2, 2, 3),
    "exchanged": exchanged,
    "wrong sign": wrong_sign,
    "two-wire": two_wire,
}


def stage(entries: list[Entry], k: int) -> str:
    """What there is to hold reading `k` against."""
    before, entry = entries[:k], entries[k]
    if any(one.cell == entry.cell for one in before):
        return "same mating"
    alike = sum(one.condition == entry.condition for one in before)
    return "three of the condition" if alike >= 3 else "fewer"


def caught(bench: str, slip: Slip, draws: int) -> dict[str, float]:
    """Share of the planted slips that are asked about or refused, by what was read before."""
    rng = random.Random(1)
    hits: Counter[str] = Counter()
    planted: Counter[str] = Counter()
    # Where the meters show no signs, a minus before a reversed voltage says nothing new.
    for study, entries in studies(BENCHES[bench], draws, slip is not wrong_sign):
        for k, entry in enumerate(entries):
            where = stage(entries, k)
            if where == "same mating" and k % 3:
                continue
            planted[where] += 1
            hits[where] += asked(study, entries, k, slip(entry, rng))
    assert planted["same mating"] > 50
    assert planted["three of the condition"] > 60
    return {where: hits[where] / planted[where] for where in planted}


@pytest.mark.parametrize("slip", list(SLIPS))
@pytest.mark.parametrize("bench", ["hall", "weak"])
def test_planted_slips_are_caught(bench: str, slip: str) -> None:
    """With the scatter of good contacts: all of them in a mating, and once three readings of the condition are there."""
    found = caught(bench, SLIPS[slip], 5)
    assert found["same mating"] > 0.99
    assert found["three of the condition"] > 0.99


def test_where_contacts_differ_by_half_a_mating_still_shows_its_slips() -> None:
    """A contact's first reading, ten times off, is caught four times in five there; its second always."""
    found = caught("wide", SLIPS["voltage by ten"], 10)
    assert found["same mating"] > 0.99
    assert found["three of the condition"] > 0.7


def test_a_slip_that_was_accepted_is_found_by_the_next_reading() -> None:
    """The first reading of all, ten times off and within what the limit lets pass: its partner contradicts it."""
    for study, entries in studies(TRUTH, 6):
        slipped = powers("voltage", -1)(entries[0], random.Random(1))
        if not asked(study, [], 0, slipped):
            judged = judge_entry(study, [slipped], entries[1])
            assert [doubt.code for doubt in judged.doubts] == ["UNIT_SLIP"]
            assert "correct the one before" in judged.doubts[0].mend


def test_contacts_that_settle_are_told_while_they_do() -> None:
    found = []
    for seed in range(8):
        plan = plan_of(TRUTH, 4, 2, 2, seed)
        plan[9] = Mating(plan[9].specimen, plan[9].condition, plan[9].number, pairs=3, excess=0.6)
        entries = bench_entries(TRUTH, plan, seed)
        for k in range(36 + 3, 36 + 6):
            found.append(judge_entry(study_of(), entries[:k], entries[k]).movement)
    assert found.count("still moving") > 0.9 * len(found)
