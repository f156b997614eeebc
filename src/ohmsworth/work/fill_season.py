"""A shop's records filled with an invented season of work, deed by deed, each by the use case that a person would call.

The store's clock is turned to the moment of each deed, so that every line stands where it belongs in time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.papers.issuing import papered_cable
from ohmsworth.work.builds.writing import RowDraft, change_row, measure, open_cable, take_test
from ohmsworth.work.builds.writing import Sending as CableSending
from ohmsworth.work.builds.writing import write_note as note_cable
from ohmsworth.work.cards.writing import add_step, open_card, read_card, write_card, write_note
from ohmsworth.work.drafts import Draft, read_draft
from ohmsworth.work.fill_shop import InventedCard, InventedShop, begin_study, take_study
from ohmsworth.work.import_keys import folder_key
from ohmsworth.work.import_study import WithHistory
from ohmsworth.work.lots.papered import papered_lot
from ohmsworth.work.papers.kept.issuing import PaperSending, issue_paper
from ohmsworth.work.papers.kept.key import make_shop_key
from ohmsworth.work.papers.kept.papered import Papered
from ohmsworth.work.papers.kept.ports import PaperPorts
from ohmsworth.work.papers.kept.proposed import proposed
from ohmsworth.work.portable import StudyFolder
from ohmsworth.work.quick_check import check_draft, next_mating, standing_study, take_check
from ohmsworth.work.records import Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_settings import ShopSettings, read_settings, write_settings
from ohmsworth.work.standards import standards
from ohmsworth.work.study_cards import close_study
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.take_entry import Sending
from ohmsworth.work.workshop.lists import ListName, read_lists
from ohmsworth.work.workshop.writing import write_list

#: The setting that says on which day an invented season ends, and the key of its last line.
ENDS, WHOLE = "last day of the invented season", "season.whole"
#: Stands for no path.
OPEN = "open"
#: Between two measurements at a cable.
_A_ROW = timedelta(seconds=25)
#: What a meter shows between contacts on either side, in ohm; "open" for no path.
ShowsOhm = Callable[[Sequence[str], Sequence[str]], str]


class TurnedClock:
    """A clock that stands where it was turned to."""

    def __init__(self, at: datetime) -> None:
        self.at = at

    def __call__(self) -> datetime:
        """The moment."""
        return self.at


@dataclass(frozen=True, slots=True)
class CardMade:
    """A card by a name of its own."""

    card: InventedCard


@dataclass(frozen=True, slots=True)
class StepWritten:
    """A step on a card: a calibration, a re-test that is wanted."""

    card: str
    slug: str
    given: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class CardChanged:
    """Fields of a card that are others from now on."""

    card: str
    given: Mapping[str, str]
    reason: str


@dataclass(frozen=True, slots=True)
class NoteWritten:
    """A note on a card."""

    card: str
    text: str


@dataclass(frozen=True, slots=True)
class StudyRead:
    """A study's folder, or more rows of one that is there; `closed` says why it takes no more readings."""

    folder: StudyFolder
    job: str
    closed: str = ""


@dataclass(frozen=True, slots=True)
class StudyBegun:
    """The question of a study, and the beginning of its sheet."""

    of: InventedShop


@dataclass(frozen=True, slots=True)
class CheckRead:
    """One check of a standard: polarity, volts and amperes as the meters show them, each with its unit."""

    standard: str
    readings: tuple[tuple[str, Mapping[str, tuple[str, str]]], ...]


@dataclass(frozen=True, slots=True)
class CableBuilt:
    """A cable by a name of its own: its description, and the rows of its test.csv; none where nothing was measured yet."""

    name: str
    toml: str
    test: bytes = b""


@dataclass(frozen=True, slots=True)
class CableMeasured:
    """What is asked for is measured at a cable, one by one; where it was mended, what reads otherwise now comes first.

    `mended` is the note that says what was done.
    """

    name: str
    shows: ShowsOhm
    mended: str = ""


@dataclass(frozen=True, slots=True)
class RowSlipped:
    """A row of a cable that was typed wrong, and withdrawn."""

    name: str
    row: RowDraft
    reason: str


@dataclass(frozen=True, slots=True)
class PaperIssued:
    """The certificate, or the test report, of a cable by its name, or of the lot that a study is about, by its folder.

    A `reason` says why it takes the place of the one before.
    """

    of: str | StudyFolder
    tested_by: str
    customer: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class ListWritten:
    """The workshop's reels or prices, as they are from now on."""

    name: ListName
    text: str
    reason: str = ""


What = (
    CardMade | StepWritten | CardChanged | NoteWritten | StudyRead | StudyBegun | CheckRead | CableBuilt
    | CableMeasured | RowSlipped | PaperIssued | ListWritten
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that was done: when, by whom, what."""

    at: datetime
    by: str
    what: What


@dataclass(frozen=True, slots=True)
class InventedSeason:
    """All that was done, the first first; `settings` are what the shop has settled, by `owner`."""

    owner: str
    settings: ShopSettings
    deeds: tuple[Deed, ...]


def season_is_whole(records: Records) -> bool:
    """Whether a season was put in to its end."""
    return records.card_of(WHOLE) is not None


@dataclass(slots=True)
class _Filling:
    """What has been put in so far, by name."""

    shop: Shop
    papers: PaperPorts
    with_history: WithHistory
    clock: TurnedClock
    cards: dict[str, int] = field(default_factory=dict)
    cables: dict[str, int] = field(default_factory=dict)
    desk: Desk = field(init=False)
    cable_desk: CableDesk = field(init=False)

    def __post_init__(self) -> None:
        self.desk, self.cable_desk = Desk(self.shop), CableDesk(self.shop)

    def do(self, what: What, by: str, key: str) -> None:  # one line a kind of deed
        match what:
            case CardMade(card):
                links = {field: str(self.cards[name]) for field, name in card.links.items()}
                given = {**card.fields, **links}
                self.cards[card.name] = open_card(self.shop, card.kind, given, by, f"invented {card.name}")
            case StepWritten(card, slug, given):
                add_step(self.shop, self.cards[card], slug, given, "", by, key)
            case CardChanged(card, given, reason):
                state = read_card(self.shop.records, self.cards[card])
                whole: dict[str, Any] = {**state.texts, **given}
                write_card(self.shop, self.cards[card], whole, reason, state.written, by, key)
            case NoteWritten(card, text):
                write_note(self.shop, self.cards[card], text, by, key)
            case StudyRead():
                self.read(what, by, key)
            case StudyBegun(of):
                begin_study(self.shop, self.desk, of)
            case CheckRead():
                self.check(what, by, key)
            case CableBuilt(name, toml, test):
                self.cables[name] = open_cable(self.cable_desk, toml, by, key)
                if test:
                    take_test(self.cable_desk, self.cables[name], test, by, f"{key}.rows")
            case CableMeasured():
                self.measure(what, by, key)
            case RowSlipped(name, row, reason):
                slipped = self.row(name, row, CableSending(by, f"{key}.row", "as the meter showed"))
                change_row(
                    self.cable_desk, self.cables[name], slipped, False, reason, CableSending(by, f"{key}.out")
                )
            case PaperIssued():
                self.issue(what, by, key)
            case ListWritten(name, text, reason):
                seen = read_lists(self.shop.records).named(name).written
                write_list(self.shop, name, text, seen, reason, CableSending(by, key))

    def read(self, what: StudyRead, by: str, key: str) -> None:
        records, folder = self.shop.records, what.folder
        study = records.card_of(folder_key(folder))
        # A folder that has grown since is refused as it was before: its rows seem to be gone.
        if study is None or len(self.desk.state(study).readings) < len(folder.rows):
            study = take_study(self.shop, folder, self.cards, self.cards[what.job], by, self.with_history)
        if what.closed:
            close_study(self.shop, study, what.closed, by, key)

    def check(self, what: CheckRead, by: str, key: str) -> None:
        """As the bench's first page takes one at the start of a day."""
        standard = next(one for one in standards(self.shop.records) if one.said.name == what.standard)
        study = standing_study(self.shop, self.desk, standard, by)
        mating = str(next_mating(self.desk.state(study)))
        entries = []
        for polarity, figures in what.readings:
            draft = check_draft(standard, Draft({}, polarity, figures, operator=by))
            draft = replace(draft, labels={**draft.labels, "mating": mating})
            entries.append(read_draft(draft, "point", self.clock()).entry)
        take_check(self.shop, self.desk, study, entries, Sending(by, key, "as the meters showed"))

    def measure(self, what: CableMeasured, by: str, key: str) -> None:
        cable, desk, number = self.cables[what.name], self.cable_desk, 0
        waiting: list[tuple[Sequence[str], Sequence[str]]] = []
        if what.mended:
            note_cable(desk, cable, what.mended, by, f"{key}.note")
            waiting = [
                (one.one.split(), one.other.split())
                for one in desk.state(cable).written
                if what.shows(one.one.split(), one.other.split())
                != (one.resistance.text if one.resistance else OPEN)
            ]
        while True:
            following = None if waiting else desk.leading(desk.state(cable)).following
            if not waiting and following is None:
                return
            one, other = waiting.pop(0) if following is None else (following.one, following.other)
            number += 1
            draft = RowDraft(" ".join(one), " ".join(other), what.shows(one, other))
            self.row(what.name, draft, CableSending(by, f"{key}.{number}", "as the meter showed"))

    def row(self, name: str, draft: RowDraft, sending: CableSending) -> int:
        self.clock.at += _A_ROW
        number = measure(self.cable_desk, self.cables[name], draft, "point", sending).number
        assert number is not None  # a doubt was answered ahead
        return number

    def issue(self, what: PaperIssued, by: str, key: str) -> None:
        papered = self.papered(what.of)
        if any(line.fields.get("sent") == key for line in papered.papers):
            return
        form = proposed(papered, self.clock(), by, read_settings(self.shop.records))
        old = papered.kept[0].number if what.reason else ""
        form = replace(
            form, tested_by=what.tested_by, customer=what.customer, supersedes=old, reason=what.reason
        )
        seen = self.shop.records.card(papered.card).lines
        issue_paper(papered, form, PaperSending(by, key, seen))

    def papered(self, of: str | StudyFolder) -> Papered:
        if isinstance(of, str):
            return papered_cable(self.cable_desk, self.papers, self.cables[of])
        study = self.shop.records.card_of(folder_key(of))
        assert study is not None  # it was read before
        return papered_lot(self.desk, self.shop, self.papers, study)


def fill_season(
    shop: Shop, papers: PaperPorts, season: InventedSeason, with_history: WithHistory, clock: TurnedClock
) -> None:
    """Put it into the records, each deed once however often it is done.

    Parameters
    ----------
    shop
        The records, which tell their time by `clock`, as `papers` do.
    papers
        What issues papers; the shop's key is made where there is none.
    season
        What was done.
    with_history
        Writes other names of past studies into a study.toml.
    clock
        Is turned to the moment of each deed.
    """
    filling = _Filling(shop, papers, with_history, clock)
    clock.at = season.deeds[0].at
    write_settings(shop, season.settings, season.owner)
    if not papers.key.there():
        make_shop_key(papers.key, shop.records, season.owner)
    for number, deed in enumerate(_in_time(season.deeds), 1):
        clock.at = deed.at
        filling.do(deed.what, deed.by, f"season.{number}")
    words = "Everything in these records is invented: a seeded simulator made them."
    write_note(shop, filling.cards["owner"], words, season.owner, WHOLE)


def _in_time(deeds: Iterable[Deed]) -> list[Deed]:
    return sorted(deeds, key=lambda deed: deed.at)
