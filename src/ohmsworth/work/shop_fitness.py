"""Is the shop's bench fit? Its check standard over all studies and days, with a repeatability study where one is chosen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from ohmsworth.errors import InputRefused
from ohmsworth.inference.control import FIT, control
from ohmsworth.readings.check import CheckStandard, CheckTable
from ohmsworth.readings.check_standard import named_in, split_check_standard
from ohmsworth.readings.home import Home
from ohmsworth.readings.study import Bench, Limit, Study
from ohmsworth.report.fitness_sentences import day_sentence
from ohmsworth.work.checks import find_checks
from ohmsworth.work.day_verdict import control_answer, day_verdict
from ohmsworth.work.ports import LoadedBench
from ohmsworth.work.report_fitness import ToldFitness, report_fitness
from ohmsworth.work.shop import Shop
from ohmsworth.work.standards import Standard, TakenCheck, check_tables, checks_taken
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_lines import home_in_records

QUESTION = "Is the bench fit?"
#: The shop's setting that names the study of repeatability which the bench is known by.
REPEATABILITY = "repeatability study"
#: A bench has a handful of meters: those of the last few studies in which it was read are looked through.
_MOST_STUDIES = 20


@dataclass(frozen=True, slots=True)
class Day:
    """What a check standard says of the bench today.

    `checks` is how many there are, `value` (ohm) and `last` are those of the last one, None before the first. `fit` is None
    while there are too few checks to set limits; `sentence` tells the verdict with its `reasons`.
    """

    standard: Standard
    checks: int
    value: float | None
    last: date | None
    today: bool
    fit: bool | None
    sentence: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """What the bench's fitness is asked of: a check standard, a study of repeatability, a limit; any may be missing."""

    standard: Standard | None = None
    study: int | None = None
    limit: Limit | None = None


def day_of(shop: Shop, desk: Desk, standard: Standard) -> Day:
    """What the checks of all studies say, read once for each state of the logs."""
    taken = checks_taken(shop.records, standard)
    now = shop.clock().astimezone().date()
    key = ("day", standard, tuple(one.mark for one in taken), now)
    return desk.once(key, lambda: _day(desk, standard, taken, now))


def _day(desk: Desk, standard: Standard, taken: tuple[TakenCheck, ...], now: date) -> Day:
    loaded = _of_checks(desk, standard, taken)
    checks = find_checks(loaded.study, loaded.checks)
    if checks is None:
        return Day(standard, 0, None, None, False, None, "It has not been read yet.", ())
    charted = control(checks.value, loaded.study.check.first)
    verdict, reasons = day_verdict(loaded.study, checks, charted)
    sentence = day_sentence(verdict, reasons, control_answer(loaded.study, checks, charted))
    fit = None if charted is None else verdict == FIT
    last = taken[-1].day
    return Day(
        standard, len(checks.value), float(checks.value[-1]), last, last == now, fit, sentence, reasons
    )


def tell_fitness(shop: Shop, desk: Desk, asked: Asked) -> ToldFitness:
    """The whole report, kept until a line is added that may change it.

    Raises
    ------
    InputRefused
        With every fault of the study, or where nothing is left to tell from.
    """
    taken = checks_taken(shop.records, asked.standard) if asked.standard else ()
    last = desk.state(asked.study).last if asked.study is not None else 0
    key = ("fitness", asked, tuple(one.mark for one in taken), last)
    return desk.once(key, lambda: report_fitness(load_fitness(shop, desk, asked, taken)))


def load_fitness(shop: Shop, desk: Desk, asked: Asked, taken: tuple[TakenCheck, ...]) -> LoadedBench:
    """The bench as it would be read from one folder: the study's trials, and the checks of all studies.

    Raises
    ------
    InputRefused
        With every fault of the study's folder.
    """
    if asked.study is None:
        loaded = _of_checks(desk, asked.standard, taken)
    else:
        state = desk.state(asked.study)
        loaded = shop.read_bench(desk.folder(asked.study, state))
        home = home_in_records(state)
        checks = tuple(named_in(home, check) for check in loaded.checks)
        loaded = replace(loaded, study=replace(loaded.study, home=home), checks=checks)
        loaded = _joined(loaded, asked.standard, taken)
    if asked.limit is not None:
        loaded = replace(loaded, study=replace(loaded.study, limit=asked.limit))
    return loaded


def _of_checks(desk: Desk, standard: Standard | None, taken: tuple[TakenCheck, ...]) -> LoadedBench:
    """The bench of which nothing is known but its check standard."""
    check = check_of(standard) if standard is not None else CheckStandard()
    study = Study(QUESTION, check=check, bench=_bench(desk, taken), home=Home("records"))
    return LoadedBench(study, None, check_tables(taken), ())


def _bench(desk: Desk, taken: Sequence[TakenCheck]) -> Bench:
    """The meters of the last study in which the standard was read and that states any."""
    studies = list(dict.fromkeys(one.study for one in reversed(taken)))
    for study in studies[:_MOST_STUDIES]:
        try:
            bench = desk.question(study, desk.state(study)).bench
        except InputRefused:  # told on the study's own page
            continue
        if bench.voltmeter or bench.ammeter or bench.ohmmeter:
            return bench
    return Bench()


def check_of(standard: Standard) -> CheckStandard:
    """A check standard as a study states it: a value without its uncertainty is no calibration."""
    said = standard.said
    known = said.uncertainty is not None
    return CheckStandard(said.name, said.value if known else None, said.uncertainty)


def _joined(loaded: LoadedBench, standard: Standard | None, taken: tuple[TakenCheck, ...]) -> LoadedBench:
    """A study of repeatability with the shop's checks in place of its own, which are among them."""
    if standard is None:
        return loaded
    own = loaded.study.check
    check = check_of(standard)
    names = {name.casefold() for name in standard.names}
    if own.name is not None and own.name.casefold() in names:
        check = replace(check, first=own.first)
    table = loaded.table
    for name in standard.names:
        if table is not None:
            table = split_check_standard(table, name)[0]
            table = table if len(table) else None
    checks: tuple[CheckTable, ...] = check_tables(taken)
    return replace(loaded, study=replace(loaded.study, check=check), table=table, checks=checks)
