"""The commands of `ohmsworth records` and their options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

records = App(
    name="records",
    help="The shop's records: studies out of them, into them, and copies of everything.",
    help_format="plaintext",
)
Place = Annotated[str | None, Parameter(name="--records", negative=(), show_default=False)]


@records.command
def export(study: int, folder: Path, *, place: Place = None) -> None:
    """Write STUDY, or a built cable, into FOLDER; a study with its whole log in record.json.

    Parameters
    ----------
    study
        Its number, as 'ohmsworth records list' shows it.
    folder
        A new or empty folder.
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.export(study, folder, place)


@records.command(name="import")
def import_(
    *folders: Path, corrections: str | None = None, by: str | None = None, place: Place = None
) -> None:
    """Take the studies and cables in FOLDERS into the records; what is there already is not taken in again.

    A whole export (a folder with cards.json, or a zip file) fills records that are still empty.

    Parameters
    ----------
    folders
        Folders with study.toml or cable.toml, exported or made by hand.
    corrections
        Why rows were edited after an export: takes them as corrections. Left out, such a folder is refused.
    by
        Who takes them in; left out, who is logged in.
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.take_in(folders, corrections, by, place)


@records.command
def export_all(path: Path, *, without: tuple[int, ...] = (), place: Place = None) -> None:
    """Write everything into PATH: a new folder, or a zip file where it ends in .zip.

    Parameters
    ----------
    path
        Where to.
    without
        Number of a card of a person or a customer whose contents are left out; may be given again.
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.export_all(path, without, place)


@records.command
def backup(path: Path, *, place: Place = None) -> None:
    """Copy the records whole to PATH, while others go on writing.

    Parameters
    ----------
    path
        A new file.
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.backup(path, place)


@records.command
def restore(backup: Path, *, place: Place = None) -> None:
    """Fill records that are still empty from BACKUP.

    Parameters
    ----------
    backup
        What 'ohmsworth records backup' wrote.
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.restore(backup, place)


@records.command
def check(*, place: Place = None) -> None:
    """Say what is wrong with the records, if anything is.

    Parameters
    ----------
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.check(place)


@records.command(name="list")
def list_(*, search: str = "", place: Place = None) -> None:
    """List the studies, last touched first.

    Parameters
    ----------
    search
        Words that a study must hold, anywhere and in any case.
    place
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    """
    from ohmsworth.cli import records as doing

    doing.show(search, place)
