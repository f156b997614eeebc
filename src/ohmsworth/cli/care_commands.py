"""The commands about care for contacts and about what the shop knows, and their options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


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
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
    pictures: Path | None = None,
) -> None:
    """Say what several studies know together of one comparison, and what a new lot would show.

    Parameters
    ----------
    folders
        Folders of studies that compare the same two conditions.
    of
        One of the two conditions; with against left out too, the pair that the most studies have.
    against
        The other one, the reference.
    json
        Print everything as JSON instead of words.
    html
        Write the report as one self-contained web page.
    pdf
        Write the report as a PDF.
    pictures
        Write every picture of the report, with its numbers, into this folder.
    """
    from ohmsworth.cli import known as telling
    from ohmsworth.cli.reported import Targets

    telling.known(folders, of, against, json, Targets(html, pdf, pictures))


CARE = (care, known)
