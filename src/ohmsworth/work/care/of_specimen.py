"""What is asked about care for a specimen of the records, and what is told of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.cards.said import SpecimenCard
from ohmsworth.work.cards.specimen_history import InStudy, specimen_history
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.care.care_study import ToldCare
from ohmsworth.work.care.form import CareForm
from ohmsworth.work.care.kept_care import found_last, kept_care, kept_care_files
from ohmsworth.work.records import NoSuchCard, Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk


@dataclass(frozen=True, slots=True)
class KeptSpecimen:
    """A specimen by its title, its plating ("" where not known), and its studies."""

    title: str
    plating: str
    studies: tuple[InStudy, ...]


def kept_specimen(desk: Desk, records: Records, number: int) -> KeptSpecimen:
    """The specimen of a card.

    Raises
    ------
    NoSuchCard
        When there is no such card, or it is no specimen's.
    """
    card = records.card(number)
    if card.kind != "specimen":
        raise NoSuchCard(f"Card {number} is no specimen.")
    said = read_card(records, number).said
    plating = said.plating if isinstance(said, SpecimenCard) else ""
    return KeptSpecimen(card.face.title, plating, specimen_history(records, number, desk.state))


def specimen_care(desk: Desk, shop: Shop, number: int, form: CareForm, today: date) -> ToldCare:
    """What to do with the specimen of a card, by what a form says.

    Raises
    ------
    InputRefused
        With every fault of the form, or where the specimen was never read with direct current.
    NoSuchCard
        When there is no such card, or it is no specimen's.
    """
    kept = kept_specimen(desk, shop.records, number)
    if not found_last(kept.studies):
        found, mend = "never read with direct current", "Read it in a study first."
        raise InputRefused((Fault("the specimen", found, "one reading at least", mend),))
    files = kept_care_files(desk, shop, form, kept.title, kept.plating, kept.studies)
    return kept_care(shop, files, today)
