"""Practice has records of its own, and they are never taken for the shop's."""

from __future__ import annotations

import os
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.records import Records

#: The setting by which records for practice are known.
MARK, MARKED = "practice", "these readings are invented"
FILE = "practice.records"


def practice_records(stated: str | None) -> str:
    """Where they are: beside this user's own.

    Raises
    ------
    InputRefused
        When records were stated: nothing that is invented goes into them.
    """
    if stated is not None:
        mend = "Leave --records out; or leave --practice out, to work in those records."
        raise InputRefused((Fault("--records", "it beside --practice", "one of the two", mend),))
    return str(own_folder(wiring.default_records()) / FILE)


def own_folder(records: str) -> Path:
    """The folder of the records; of a database, this user's own."""
    if "://" not in records:
        return Path(os.path.abspath(Path(records).expanduser())).parent
    from platformdirs import user_data_dir

    return Path(user_data_dir("ohmsworth", False))


def own_profiles(records: str) -> Path:
    """Where the shop's own profiles of instruments are looked for."""
    return own_folder(records) / "meters.toml"


def hold_apart(records: Records, practice: bool) -> None:
    """Mark records for practice when they are new, and refuse to use them for anything else.

    Raises
    ------
    InputRefused
        When the shop's records are opened for practice, or those for practice without it.
    """
    marked = records.settings().get(MARK) == MARKED
    if marked and not practice:
        mend = "Open them with 'ohmsworth bench --practice', or name the shop's own."
        raise InputRefused((Fault("records", "records for practice", "the shop's own", mend),))
    if practice and not marked:
        if records.count():
            mend = f"Move the file away: practice makes its own {FILE}."
            raise InputRefused((Fault("records", "records of a shop", "records for practice", mend),))
        records.write_setting(MARK, MARKED, "practice")
