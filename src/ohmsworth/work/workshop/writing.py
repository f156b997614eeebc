"""What may be done to the workshop's lists: writing one anew. Each time adds a line, and takes nothing away."""

from __future__ import annotations

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.builds.writing import Sending, kept_text
from ohmsworth.work.cards.reasons import long_reason_faults
from ohmsworth.work.cards.typed import clean_text
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.workshop.lists import FILES, KEY, OPENED, WRITTEN, ListName, lists_face, read_lists

#: A text beyond this (characters) is no list of one shop.
LONGEST = 200_000


def write_list(shop: Shop, name: ListName, text: str, seen: int, reason: str, sending: Sending) -> bool:
    """Write a list anew, blank for none; say whether it says something else now. `seen` is the line that the form had shown.

    Raises
    ------
    InputRefused
        With every fault of the text, by its lines; where somebody else wrote it in between; for a reason that is too long.
    """
    text = kept_text(text) if text.strip() else ""
    lists = read_lists(shop.records)
    before = lists.named(name)
    if any(line.key == sending.key for line in before.lines) or text == before.text:
        return False
    faults = long_reason_faults(reason)
    if seen < before.written:
        found, mend = (
            f"changed by {before.lines[-1].by} since this form was opened",
            "Look at what stands there now.",
        )
        faults.append(Fault(FILES[name], found, "the list as the form showed it", mend))
    faults += _text_faults(shop, name, text)
    if faults:
        raise InputRefused(tuple(faults))
    opened = NewLine(KEY, OPENED)
    card = shop.records.open_card("workshop", sending.by, [opened], lists_face)
    line = NewLine(sending.key, WRITTEN[name], {"text": text}, reason=clean_text(reason))
    shop.records.add(card, sending.by, [line], lists_face)
    return True


def _text_faults(shop: Shop, name: ListName, text: str) -> list[Fault]:
    if len(text) > LONGEST:
        found, mend = f"a text of {len(text)} characters", "Leave out what is not in use."
        return [Fault(FILES[name], found, f"at most {LONGEST}", mend)]
    try:
        if text:
            shop.workshop.reels(text) if name == "reels" else shop.workshop.prices(text)
    except InputRefused as refused:
        return list(refused.faults)
    return []
