"""A study of the records as the files of a folder: what it is answered from, and its whole log beside it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping

from ohmsworth.errors import InputRefused
from ohmsworth.work.portable import CardLog, StudyFiles, StudyLog, card_log, linked_cards
from ohmsworth.work.ports import FolderOf
from ohmsworth.work.records import NoSuchCard, Records
from ohmsworth.work.study_log import fold

_PAST = re.compile(r"study ([1-9][0-9]{0,17})")


def export_study(
    records: Records, study: int, folder_of: FolderOf, record_files: StudyFiles
) -> dict[str, bytes]:
    """The files by their paths in the folder; past studies that the question names stand in folders inside it.

    Raises
    ------
    NoSuchCard
        When there is no such study.
    """
    card = records.card(study)
    if card.kind != "study":
        raise NoSuchCard(f"Card {study} is a {card.kind}, not a study.")
    return files_of(records, card_log(records, study), folder_of, record_files)


def files_of(
    records: Records, log: CardLog, folder_of: FolderOf, record_files: StudyFiles
) -> dict[str, bytes]:
    """The files of a study whose log is at hand; what cannot stand in one folder stands in its log alone."""
    state = fold(log.lines)
    linked = linked_cards(records, log.lines)
    past = {n: card for n in past_numbers(state.question) if (card := _card(records, n)) is not None}
    keys = {number: card.key for number, card in past.items()}
    files = record_files(StudyLog(log, linked, keys))
    try:
        files |= folder_of(state, log.contents.__getitem__)
    except InputRefused:
        return files
    for number, card in past.items():
        try:
            found: Mapping[str, bytes] = folder_of(fold(card.lines), card.contents.__getitem__)
        except InputRefused:
            continue
        files |= {f"study {number}/{name}": data for name, data in found.items()}
    return files


def past_numbers(toml: str) -> tuple[int, ...]:
    """Numbers of the past studies that a question of the records names."""
    try:
        listed = tomllib.loads(toml).get("history")
    except ValueError:
        return ()
    names = listed if isinstance(listed, list) else []
    found = [_PAST.fullmatch(name.strip()) for name in names if isinstance(name, str)]
    return tuple(dict.fromkeys(int(match[1]) for match in found if match))


def _card(records: Records, number: int) -> CardLog | None:
    try:
        return card_log(records, number)
    except NoSuchCard:
        return None
