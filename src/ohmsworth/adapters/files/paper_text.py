"""The table ``[certificate]`` written into the text of a cable.toml or study.toml."""

from __future__ import annotations

from dataclasses import fields
from datetime import date

import tomlkit
from tomlkit.exceptions import TOMLKitError

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.papers.kept.form import PaperForm

_TABLE = "certificate"


def with_paper(toml: str, form: PaperForm) -> str:
    """`toml` with the answers of `form` as its table [certificate], in the place of one that it holds; the rest stays as it is.

    Raises
    ------
    InputRefused
        For a text that is no TOML.
    """
    try:
        text = tomlkit.parse(toml)
    except TOMLKitError as error:
        mend = "Mend it first."
        raise InputRefused((Fault("the description", str(error), "text in TOML", mend),)) from error
    text.pop(_TABLE, None)
    table = tomlkit.table()
    for one in fields(form):
        said = getattr(form, one.name)
        if said:
            table.add(one.name, _day(said) if one.name == "date" else said)
    text.add(_TABLE, table)
    return tomlkit.dumps(text)


def _day(said: str) -> date | str:
    """A day, or the text for the reader to say what is wrong with it."""
    try:
        return date.fromisoformat(said)
    except ValueError:
        return said
