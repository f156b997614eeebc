"""The shop's key made on request, with a line in the history of the settings that says so."""

from __future__ import annotations

import base64

from ohmsworth.work.papers.kept.ports import ShopKey
from ohmsworth.work.records import Records

#: The setting that says which public key the shop's papers are signed with since when.
PUBLIC_KEY = "public key for papers"


def make_shop_key(key: ShopKey, records: Records, by: str) -> None:
    """Make it; the public half stands in the history, the private one nowhere but in its file.

    Raises
    ------
    OutputFault
        Where there is one already, or it cannot be written.
    """
    public = key.make()
    records.write_setting(PUBLIC_KEY, base64.b64encode(public).decode("ascii"), by)
