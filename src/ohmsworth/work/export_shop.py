"""Everything that the records hold, as files that people and other programs can read without this one."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ohmsworth.work.builds.folder import folder_files
from ohmsworth.work.builds.log import fold
from ohmsworth.work.cable_ports import WrittenRow
from ohmsworth.work.export_study import files_of
from ohmsworth.work.leave_out import leaving_out
from ohmsworth.work.paper_lines import NameFile, paper_files
from ohmsworth.work.portable import CardLog, StudyFiles
from ohmsworth.work.ports import FolderOf
from ohmsworth.work.records import Line, Records
from ohmsworth.work.workshop.lists import FILES, fold_lists

README = "README.txt"
_ABOUT = """\
Everything that the shop's records held when this was exported.

cards.json      Every card (studies, specimens, meters, check standards, limits, persons, customers, jobs, cables, the workshop's
                lists) with its whole log: who said what, when, about which earlier line, and why. Nothing is ever taken out of
                a log.
settings.json   The shop's settings.
studies/        A folder a study: study.toml is the question, readings.csv holds the readings as last corrected,
                record.json the whole log with every earlier value, files/ photos and other files.
                'ohmsworth answer FOLDER' answers it as the records do.
cables/         A folder a built cable: cable.toml describes it, test.csv holds what was measured,
                certificate-NUMBER.json is a paper that was issued, to the byte.
                'ohmsworth cable FOLDER' judges it as the records do.
workshop/       reels.csv and prices.toml as last written; 'ohmsworth workshop' reads them.
files/          Files of cards that are no studies.

Times are in UTC. Digits stand as they were typed. 'ohmsworth records import' with a folder of studies/ takes that study into
records; with all of this it fills records that are still empty.
The shop's private key for signing papers is not here: keep a copy of its file in a safe place.
Passwords and who is signed in are not here: make accounts anew, or keep a backup ('ohmsworth records backup').
It holds names and addresses of people if the records do: keep it as you keep those.
"""


@dataclass(frozen=True, slots=True)
class ShopFormat:
    """How a shop is written as files: the ports of this use case.

    `cards` writes cards.json, given the path of each line's file; `settings` settings.json; `safe` makes a name that every
    system takes; `content_name` names the file of a line; `test_csv` writes what was measured at a cable; `name_paper` names
    the file of a paper by its number.
    """

    folder_of: FolderOf
    record_files: StudyFiles
    cards: Callable[[Mapping[int, CardLog], Callable[[int, Line], str]], bytes]
    settings: Callable[[Mapping[str, str]], bytes]
    safe: Callable[[str], str]
    content_name: Callable[[Line], str]
    test_csv: Callable[[Sequence[WrittenRow]], bytes]
    name_paper: NameFile


def export_shop(
    records: Records, form: ShopFormat, without: Collection[int] = ()
) -> Iterator[tuple[str, bytes]]:
    """Path and bytes of every file, one after the other; lines that are added meanwhile are left out.

    What the cards `without` say of people is left out as :func:`leaving_out` does it, which also says what it refuses.
    """
    return _files(leaving_out(records, without), form, _ABOUT + _left_out(without))


def _files(records: Records, form: ShopFormat, about: str) -> Iterator[tuple[str, bytes]]:
    cards = _cards(records)
    folders = {n: _folder(n, title, form.safe) for n, (card, title) in cards.items() if card.kind == "study"}

    def path(number: int, line: Line) -> str:
        place = f"{folders[number]}/files" if number in folders else f"files/card {number:06d}"
        return f"{place}/{form.content_name(line)}"

    yield README, about.encode()
    yield "settings.json", form.settings(records.settings())
    yield "cards.json", form.cards({number: card for number, (card, _) in cards.items()}, path)
    for number, (card, _) in cards.items():
        held = [line for line in card.lines if line.has_content]
        contents = {line.number: records.content(number, line.number) for line in held}
        if number not in folders:
            yield from ((path(number, line), contents[line.number]) for line in held)
            yield from _built(number, cards[number], contents, form)
            continue
        whole = replace(card, contents=contents)
        for name, data in sorted(files_of(records, whole, form.folder_of, form.record_files).items()):
            yield f"{folders[number]}/{name}", data


def _built(
    number: int, found: tuple[CardLog, str], contents: Mapping[int, bytes], form: ShopFormat
) -> Iterator[tuple[str, bytes]]:
    """The files of a built cable, its papers among them, and the workshop's lists; none of any other card."""
    card, title = found
    if card.kind == "workshop":
        lists = fold_lists(card.lines)
        texts = {FILES[name]: lists.named(name).text for name in sorted(FILES)}
        yield from ((f"workshop/{name}", text.encode()) for name, text in texts.items() if text)
    if card.kind == "cable":
        folder = f"cables/{_place(number, title, form.safe)}"
        state = fold(card.lines)
        files = folder_files(state, form.test_csv) | paper_files(state, contents.__getitem__, form.name_paper)
        yield from ((f"{folder}/{name}", data) for name, data in sorted(files.items()))


def _left_out(cards: Collection[int]) -> str:
    if not cards:
        return ""
    listed = ", ".join(str(number) for number in sorted(cards))
    papers = "Papers of cables are as they were issued, and may name them."
    return f"\nWhat these cards say was left out, as was asked for: {listed}. {papers}\n"


def _cards(records: Records) -> dict[int, tuple[CardLog, str]]:
    """Every card by number with its title; files not yet among them."""
    found = {}
    for card in records.cards(most=records.count()):
        found[card.number] = (CardLog(card.kind, card.opened, records.lines(card.number)), card.face.title)
    return dict(sorted(found.items()))


def _folder(number: int, title: str, safe: Callable[[str], str]) -> str:
    """The number makes it unique, the title tells it."""
    return f"studies/{_place(number, title, safe)}"


def _place(number: int, title: str, safe: Callable[[str], str]) -> str:
    return f"{number:06d} {safe(title[:60]).strip()}"
