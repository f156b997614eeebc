"""What the commands of `ohmsworth records` do: out of the records, into them, and what is in them."""

from __future__ import annotations

import getpass
from collections.abc import Sequence
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.builds.folder import CABLE
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.export_study import export_study
from ohmsworth.work.faces import face_of, faces_by
from ohmsworth.work.import_study import import_study, left_words
from ohmsworth.work.records import Records
from ohmsworth.work.restore_shop import restore_shop

#: Studies listed at most, unless a search finds fewer.
MOST = 1000


def export(study: int, folder: Path, address: str | None) -> None:
    """Write a study, or a built cable, into a folder."""
    with wiring.open_records(_place(address)) as records:
        if records.card(study).kind == "cable":
            _cable_out(records, study, folder)
            return
        files = export_study(records, study, wiring.folder_of, wiring.record_files)
    wiring.write_tree(folder, sorted(files.items()))
    print(f"Study {study} is in {folder}: {len(files)} files. 'ohmsworth answer {folder}' answers it.")


def _cable_out(records: Records, cable: int, folder: Path) -> None:
    from ohmsworth.work.builds.folder import folder_files
    from ohmsworth.work.builds.log import fold
    from ohmsworth.work.paper_lines import paper_files

    state = fold(records.lines(cable))
    files = folder_files(state, wiring.cable_ports().test_csv)
    files |= paper_files(state, lambda line: records.content(cable, line), wiring.paper_name)
    wiring.write_tree(folder, sorted(files.items()))
    print(f"Cable {cable} is in {folder}. 'ohmsworth cable {folder}' judges it.")


def take_in(paths: Sequence[Path], corrections: str | None, by: str | None, address: str | None) -> None:
    """Take in studies' folders, each by itself, or a whole shop."""
    if not paths:
        mend = "Name one, such as 'ohmsworth records import old/hall'."
        raise InputRefused((Fault("the command", "no folder", "folders of studies", mend),))
    name = by or _user()
    with wiring.open_records(_place(address)) as records:
        for path in paths:
            if path.is_file() or (path / "cards.json").exists():
                _whole_shop(records, path, name)
            elif (path / CABLE).is_file():
                _cable(records, path, name)
            else:
                _study(records, path, corrections, name)


def _whole_shop(records: Records, path: Path, by: str) -> None:
    with wiring.open_shop(path) as (cards, settings, content):
        number = restore_shop(records, cards, settings, content, by, faces_by(wiring.cable_ports()))
    print(f"{path}: {_cards(number)} in the records.")


def _cable(records: Records, path: Path, by: str) -> None:
    from ohmsworth.work.builds.desk import CableDesk
    from ohmsworth.work.builds.taking_in import take_built

    desk = CableDesk(wiring.shop(records))
    found = take_built(desk, wiring.read_built(path), by, wiring.paper_reader())
    new = f"{found.added} new row{'s' if found.added != 1 else ''}" if found.added else "no new row"
    new += f", {found.papers} new paper{'s' if found.papers != 1 else ''}" if found.papers else ""
    known = " It was there already." if found.known else ""
    print(f"{path}: cable {found.cable}, {new}.{known}")


def _study(records: Records, path: Path, corrections: str | None, by: str) -> None:
    folder = wiring.read_study_folder(path)
    found = import_study(records, folder, by, face_of, wiring.with_history, corrections)
    new = f"{found.added} new line{'s' if found.added != 1 else ''}" if found.added else "nothing new"
    known = " It was there already." if found.known else ""
    print(f"{path}: study {found.study}, {new}.{known}")
    for words in left_words(found.passed_over):
        print(f"  {words}")


def export_all(path: Path, without: Sequence[int], address: str | None) -> None:
    """Write everything into a folder, or a zip file where the name says so; what the cards `without` say is left out."""
    write = wiring.write_zip if path.suffix.lower() == ".zip" else wiring.write_tree
    with wiring.open_records(_place(address)) as records:
        number = records.count()
        write(path, export_shop(records, wiring.shop_format(), without))
    print(f"{_cards(number)} in {path}; README.txt in it says what is what.")


def backup(path: Path, address: str | None) -> None:
    """Copy the records whole."""
    with wiring.open_records(_place(address)) as records:
        records.back_up(path)
    print(f"A copy of everything is in {path}. Keep it on another disk.")


def restore(path: Path, address: str | None) -> None:
    """Fill empty records from a copy."""
    wiring.restore_records(path, _place(address))
    print(f"Everything in {path} is in {_place(address).partition('@')[2] or _place(address)}.")


def check(address: str | None) -> None:
    """Say what is wrong with the records."""
    with wiring.open_records(_place(address)) as records:
        wrong, number = records.check(), records.count()
    if wrong:
        mend = "Copy the file as it is, then restore the newest backup into a new place."
        raise InputRefused(tuple(Fault("the records", told, "sound records", mend) for told in wrong))
    print(f"The records are sound: {number} card{'s' if number != 1 else ''}.")


def show(search: str, address: str | None) -> None:
    """List studies, last touched first."""
    with wiring.open_records(_place(address)) as records:
        cards = records.cards("study", search=search, most=MOST)
        number = records.count("study", search=search)
    for card in cards:
        print(
            f"{card.number:6d}  {card.touched:%Y-%m-%d}  {card.face.state:<7s} {' '.join(card.face.title.split())}"
        )
    if number > len(cards):
        print(f"... and {number - len(cards)} more; --search WORDS finds fewer.")
    if not number:
        print("No study." if not search else "No study holds all of these words.")


def _cards(number: int) -> str:
    return f"{number} card is" if number == 1 else f"{number} cards are"


def _place(address: str | None) -> str:
    return address or wiring.default_records()


def _user() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "somebody"
