"""The folder of a measurement over frequency, before its recordings are analysed."""

from __future__ import annotations

import os
import tomllib
from pathlib import Path

from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.files.tones_template import TONES_TEMPLATE
from ohmsworth.adapters.files.tones_toml import read_wishes, wishes_of
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.tone_files import PLAN, RECORDINGS, WISHES


def load_tones(folder: Path) -> LoadedTones:
    """Read what is wished for in `folder`; where there is no tones.toml, what a new one says.

    Raises
    ------
    InputRefused
        With every fault of tones.toml; nothing was written.
    """
    _refuse_no_folder(folder)
    begin = None
    if os.path.lexists(folder / WISHES):
        wishes, faults = read_wishes(folder / WISHES)
    else:
        begin = TONES_TEMPLATE.encode()
        wishes, faults = wishes_of(tomllib.loads(TONES_TEMPLATE), [])
    if wishes is None:
        raise InputRefused(tuple(faults))
    plan = read_plan_json(folder / PLAN)[0]
    recordings = tuple(name for name in RECORDINGS if os.path.lexists(folder / name))
    return LoadedTones(wishes, begin, plan, recordings)


def _refuse_no_folder(folder: Path) -> None:
    """Refuse what is there and is no folder."""
    if os.path.lexists(folder) and not folder.is_dir():
        mend = "Name a folder, which may be new."
        found = "something that is no folder"
        raise InputRefused((Fault(shorten(str(folder), 200), found, "a folder", mend),))
