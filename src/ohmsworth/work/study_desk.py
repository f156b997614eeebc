"""A study of the records laid out for use: its question, its folder, its readings as loaded, each read once for each line."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from threading import Lock
from typing import TypeVar, cast

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.check_standard import named_in
from ohmsworth.readings.home import Home, where_said, words_said
from ohmsworth.readings.study import Study
from ohmsworth.work.ports import LoadedLot, LoadedStudy
from ohmsworth.work.records import Line, NoSuchCard
from ohmsworth.work.shelf import Shelf
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_lines import home_in_records
from ohmsworth.work.study_log import StudyState

Found = TypeVar("Found")
#: Results held ready; more than anybody looks at at once.
MOST = 100


class Desk:
    """What is asked again and again about studies that have not changed since; safe between threads."""

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self.shelf = Shelf(shop.records)
        self._found: OrderedDict[tuple[Hashable, ...], object] = OrderedDict()
        self._lock = Lock()

    def state(self, study: int) -> StudyState:
        """What the study's log says now; raises NoSuchCard."""
        return self.shelf.state(study)

    def after(self, study: int, before: StudyState, added: Sequence[Line]) -> StudyState:
        """The same, where lines were just `added` to the log of which `before` tells."""
        return self.shelf.after(study, before, added)

    def question(self, study: int, state: StudyState) -> Study:
        """The question of the study; raises InputRefused with every fault of its study.toml."""
        beside = tuple((one.name, one.number) for one in state.files if one.beside)
        return self.once(("question", study, state.question_line, beside), lambda: self.read(study, state))

    def read(self, study: int, state: StudyState) -> Study:
        """The question of a state that need not be in the records yet; raises InputRefused."""
        found = self._shop.read_question(state.question, self._files(study, state))
        return replace(found, home=Home("records"))

    def loaded(self, study: int, state: StudyState) -> LoadedStudy:
        """The study with its readings, read as the folder that it would be exported as.

        Raises
        ------
        InputRefused
            With every fault of that folder.
        """
        return self.once(("loaded", *self.stand(study, state)), lambda: self._load(study, state))

    def lot(self, study: int, state: StudyState) -> LoadedLot:
        """The question about a lot, with the sample where there is one, read as the folder that it would be exported as.

        Raises
        ------
        InputRefused
            With every fault of that folder; where the question states no lot, or no limit to judge it by.
        """
        return self.once(("lot", *self.stand(study, state)), lambda: self._load_lot(study, state))

    def stand(self, study: int, state: StudyState) -> tuple[Hashable, ...]:
        """What an answer of the study rests on: how far its own log goes, and those of the past studies that it names.

        Raises
        ------
        InputRefused
            When the question cannot be read.
        """
        past = tuple(self._past_of(name) for name in self.question(study, state).history)
        return (study, state.last, past)

    def _past_of(self, name: str) -> tuple[str, int]:
        """How far the log of a past study goes; 0 for one that is not in the records."""
        number = name.removeprefix("study ")
        if not (number.isascii() and number.isdigit() and len(number) < 19):
            return name, 0
        try:
            return name, self.state(int(number)).last
        except NoSuchCard:
            return name, 0

    def folder(self, study: int, state: StudyState) -> dict[str, bytes]:
        """The files of that folder."""
        return self._shop.folder_of(state, self._content(study))

    def once(self, key: tuple[Hashable, ...], find: Callable[[], Found]) -> Found:
        """What `find` gives, kept under `key` so that it is not looked for again.

        The first two parts of `key` say what it is of, the rest how far it goes: what went less far is dropped, for a large
        study has thousands of readings, and what they amount to is large.
        """
        with self._lock:
            if key in self._found:
                self._found.move_to_end(key)
                return cast(Found, self._found[key])
        found = find()
        with self._lock:
            for older in [one for one in self._found if one[:2] == key[:2]]:
                del self._found[older]
            self._found[key] = found
            while len(self._found) > MOST:
                self._found.popitem(last=False)
        return found

    def _load(self, study: int, state: StudyState) -> LoadedStudy:
        home = home_in_records(state)
        with said_in(home):
            return _at_home(home, self._shop.read_folder(self.folder(study, state), self._past))

    def _load_lot(self, study: int, state: StudyState) -> LoadedLot:
        home = home_in_records(state)
        with said_in(home):
            found = self._shop.read_lot(self.folder(study, state), self._past)
        sample = None if found.sample is None else _at_home(home, found.sample)
        return LoadedLot(replace(found.study, home=home), sample)

    def _past(self, study: int) -> Mapping[str, bytes] | None:
        try:
            return self.folder(study, self.state(study))
        except NoSuchCard:
            return None

    def _content(self, study: int) -> Callable[[int], bytes]:
        return lambda number: self._shop.records.content(study, number)

    def _files(self, study: int, state: StudyState) -> Mapping[str, bytes]:
        content = self._content(study)
        return {one.name: content(one.number) for one in state.files if one.beside}


def _at_home(home: Home, found: LoadedStudy) -> LoadedStudy:
    """A study that knows where it is kept."""
    checks = tuple(named_in(home, check) for check in found.checks)
    return replace(found, study=replace(found.study, home=home), checks=checks)


@contextmanager
def said_in(home: Home) -> Iterator[None]:
    """What is refused inside is told as somebody understands it who has not seen the files of the study."""
    try:
        yield
    except InputRefused as refused:
        raise InputRefused(tuple(_said(home, fault) for fault in refused.faults)) from refused


def _said(home: Home, fault: Fault) -> Fault:
    """A fault of the study's folder as it is told to somebody who has not seen its files."""
    expected, mend = words_said(home, fault.expected), words_said(home, fault.mend)
    return Fault(where_said(home, fault.where), words_said(home, fault.found), expected, mend)
