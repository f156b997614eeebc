"""The commands about care for contacts and about what the shop knows, and their options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from ohmsworth.cli.records_commands import Place


def care(
    folder: Path,
    *,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
) -> None:
    """Say what to do with the contact in FOLDER (care.toml): leave it, exercise, clean or replace it, and what that costs.

    Parameters
    ----------
    folder
        A folder with care.toml; readings.csv, outcomes.csv and history.csv count where they are there.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    pictures
        Write every picture of the report, with its numbers, into this folder.
    """
    from ohmsworth.cli import care as telling
    from ohmsworth.cli.reported import Targets

    telling.care(folder, json, Targets(html, pdf, pictures))


def known(
    *folders: Path,
    of: str = "",
    against: str = "",
    by: Literal["part", "plating", "age", "lot", "treatment", "condition"] | None = None,
    only: Annotated[tuple[str, ...], Parameter(negative=())] = (),
    place: Place = None,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
) -> None:
    """Say what several studies know together of one comparison, and what a new lot would show.

    With --by it says how contacts age instead, over everything in the shop's records.

    Parameters
    ----------
    folders
        Folders of studies that compare the same two conditions; none with --by.
    of
        One of the two conditions; with against left out too, the pair that the most studies have.
    against
        The other one, the reference.
    by
        Say how contacts age, told apart by this; lot is the supplier's.
    only
        With --by, what they must have in common, such as --only plating=gold; may be given again.
    place
        With --by, path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    pictures
        Write every picture of the report, with its numbers, into this folder.
    """
    from ohmsworth.cli.reported import Targets

    targets = Targets(html, pdf, pictures)
    if by is not None or only or place is not None:
        from ohmsworth.cli import ageing

        ageing.ageing(ageing.Asked(by or "", only, place, folders, of, against), json, targets)
        return
    from ohmsworth.cli import known as telling

    telling.known(folders, of, against, json, targets)


def service_card(
    serial: str,
    *,
    card: int | None = None,
    air: str = "",
    html: Path | None = None,
    pdf: Path | None = None,
    records: Annotated[str | None, Parameter(negative=(), show_default=False)] = None,
    json: Annotated[bool, Parameter(negative=())] = False,
) -> None:
    """Write the service card of the specimen or the cable with SERIAL: found, done, as it is now, when to look again.

    Parameters
    ----------
    serial
        As it is written on the piece.
    card
        Number of its card, where a specimen and a cable, or several cables, have this serial.
    air
        Class of the air that a specimen is kept in, from G1 (mild) to GX (severe): for the next look at silver.
    html
        Write the card as one self-contained web page.
    pdf
        Write the card as a PDF of one page.
    records
        Path or address of the records; left out, OHMSWORTH_RECORDS or the file among your own data.
    json
        Print everything as JSON instead of words.
    """
    from ohmsworth.cli import service_card as telling
    from ohmsworth.cli.reported import Targets

    telling.service_card(serial, card, air, Targets(html, pdf), records, json)


CARE = (care, known, service_card)
