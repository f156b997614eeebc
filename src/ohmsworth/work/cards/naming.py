"""Which specimen's card a name in a study stands for, and the studies that a card is linked to."""

from __future__ import annotations

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.names import twin_key
from ohmsworth.work.cards.writing import open_card, read_card
from ohmsworth.work.marks import card_mark, name_mark, one_line
from ohmsworth.work.records import Card, CardKind, NewLine, NoSuchCard, Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import SPECIMEN, fold

MOST_LINKED = 500
LONGEST_SERIAL = 120


def title_of(records: Records, number: int) -> str:
    """What a card is called; its number where it is not there."""
    try:
        return records.card(number).face.title
    except NoSuchCard:
        return f"card no. {number}"


def name_specimen(shop: Shop, study: int, name: str, card: int | str, by: str, key: str) -> int:
    """Say that `name` in a study is the specimen of a `card`, or of a new one with the serial given as text; return the card.

    Readings that were taken under the name before belong to the card too.

    Raises
    ------
    InputRefused
        When the name is empty, the card is no specimen, or the serial is another specimen's.
    NoSuchCard
        When there is no such card.
    """
    name = one_line(name)
    if not name:
        fault = Fault("specimen's name", "nothing", "a name in this study", "Choose one of the list.")
        raise InputRefused((fault,))
    if isinstance(card, str):
        number = open_card(shop, "specimen", {"serial": card}, by, f"{key}.card")
    else:
        number = card
        kind = read_card(shop.records, number).kind.kind
        if kind != "specimen":
            found = f"card no. {number}, a {kind}"
            fault = Fault(f"specimen {shorten(name)}", found, "a specimen's card", "Choose a specimen.")
            raise InputRefused((fault,))
    if fold(shop.records.lines(study)).specimens.get(name) != number:
        line = NewLine(key, SPECIMEN, {"name": name, "card": number})
        shop.records.add(study, by, [line], study_face)
    return number


def linked(records: Records, number: int, kind: CardKind) -> tuple[Card, ...]:
    """Cards of a kind that link to card `number`, the last touched first."""
    return records.cards(kind, search=card_mark(number), most=MOST_LINKED)


def specimen_of_serial(records: Records, serial: str) -> int | None:
    """The card of the specimen with this very serial, in any letters and blanks; None where there is none."""
    if not one_line(serial):
        return None
    for card in records.cards("specimen", search=name_mark(serial[:LONGEST_SERIAL]), most=20):
        theirs = str(read_card(records, card.number).texts.get("serial") or "")
        if twin_key(theirs) == twin_key(one_line(serial)):
            return card.number
    return None
