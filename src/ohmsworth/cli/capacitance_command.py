"""The command ``capacitance``: what a wire of a cable has to the rest, by an audio interface."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def capacitance(
    folder: Path,
    *,
    json: Annotated[bool, Parameter(negative=())] = False,
    html: Path | None = None,
    pdf: Path | None = None,
) -> None:
    """Write what is played for the capacitance of a cable's wires into FOLDER, or tell it once it is recorded.

    Parameters
    ----------
    folder
        A folder with capacitance.toml; where there is none, a commented one is written to start from.
    json
        Print everything as JSON instead of words.
    html
        Write the card or the report as one self-contained web page.
    pdf
        Write the card or the report as a PDF.
    """
    from ohmsworth.cli import capacitance as finding

    finding.capacitance(folder, json, html, pdf)
