"""A shop's records filled with what was invented to show them: cards, studies from folders, and one study half read."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from ohmsworth.work.cards.naming import name_specimen
from ohmsworth.work.cards.writing import open_card
from ohmsworth.work.drafts import Draft, read_draft
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import WithHistory, import_study
from ohmsworth.work.make_study import make_study
from ohmsworth.work.portable import StudyFolder
from ohmsworth.work.records import CardKind
from ohmsworth.work.shop import Shop
from ohmsworth.work.steps import step_for
from ohmsworth.work.study_cards import name_job
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_form import StudyForm
from ohmsworth.work.take_entry import Sending, take_entry

#: What meters show for a condition and a polarity: quantity to its text and unit; the number says which reading it is.
Shows = Callable[[str, str, int], Mapping[str, tuple[str, str]]]


@dataclass(frozen=True, slots=True)
class InventedCard:
    """A card by a name of its own; `links` are fields that hold the card of such a name."""

    name: str
    kind: CardKind
    fields: Mapping[str, Any]
    links: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class InventedShop:
    """What stands in the records.

    Parameters
    ----------
    by
        Who wrote it.
    cards
        What others link to first.
    job
        Name of the card of the job that the studies from folders belong to.
    open_study, shows, read
        A study that is being read: its question, what the meters show, and how many readings of its sheet are taken.
    """

    by: str
    cards: tuple[InventedCard, ...]
    job: str
    open_study: StudyForm
    shows: Shows
    read: int


def fill_shop(
    shop: Shop, invented: InventedShop, folders: Sequence[StudyFolder], with_history: WithHistory
) -> None:
    """Put it into the records, each thing once however often it is done.

    A specimen's name in a folder is the card of the same name.
    """
    numbers: dict[str, int] = {}
    for card in invented.cards:
        links = {key: str(numbers[name]) for key, name in card.links.items()}
        given = {**card.fields, **links}
        numbers[card.name] = open_card(shop, card.kind, given, invented.by, f"invented {card.name}")
    specimens = {card.name: numbers[card.name] for card in invented.cards if card.kind == "specimen"}
    for folder in folders:
        take_study(shop, folder, specimens, numbers[invented.job], invented.by, with_history)
    begin_study(shop, Desk(shop), invented)


def take_study(
    shop: Shop, folder: StudyFolder, cards: Mapping[str, int], job: int, by: str, with_history: WithHistory
) -> int:
    """Take a folder in for a job, its specimens named by the cards of the same names; return the study's card."""
    study = import_study(shop.records, folder, by, face_of, with_history).study
    name_job(shop, study, job, by, f"invented job {study}")
    for name in dict.fromkeys(row.entry.specimen for row in folder.rows):
        if name in cards:
            name_specimen(shop, study, name, cards[name], by, f"invented {study} {name}")
    return study


def begin_study(shop: Shop, desk: Desk, invented: InventedShop) -> None:
    """Ask the question of the study that is open, and read the beginning of its sheet."""
    study = make_study(shop, invented.open_study, invented.by, "invented open study")
    if desk.state(study).readings:
        return
    for number in range(invented.read):
        step = step_for(desk.state(study))
        if step is None:
            return
        row = step.row
        labels = {"specimen": row.specimen, "condition": row.condition, "mating": str(row.mating or "")}
        draft = Draft(
            labels,
            row.polarity,
            invented.shows(row.condition, row.polarity, number),
            operator=invented.by,
            step=row.step,
        )
        entry = read_draft(draft, "point", shop.clock()).entry
        take_entry(
            shop,
            desk,
            study,
            desk.state(study),
            entry,
            Sending(invented.by, f"invented reading {number}", waited=True),
        )
