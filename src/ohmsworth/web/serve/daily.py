"""What is done beside the serving, now and then: a copy of the records every day, and figures that wait to be made anew."""

from __future__ import annotations

import threading
from collections.abc import Callable

from ohmsworth.errors import OhmsworthError
from ohmsworth.work.backups import is_due, make_copy
from ohmsworth.work.keeping import Keeping
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_settings import read_settings

#: Seconds until the first look, so that the first pages go first, and between two looks.
FIRST, AGAIN = 20.0, 900.0
#: Seconds that a copy under way is given when the bench ends; what is not whole by then is not kept.
LAST = 20.0
#: Studies whose figures are made anew between two looks at whether the bench ends: a second or two of computing.
AT_ONCE = 10


def copy_if_due(shop: Shop, keeping: Keeping) -> bool:
    """Make today's copy unless there is one, or nothing to lose; whether one was made.

    Raises
    ------
    RecordsFault
        When it cannot be made; the pages say so once the newest copy is old.
    """
    if not shop.records.count():
        return False
    folder = keeping.copies(read_settings(shop.records).copies_folder)
    if not is_due(folder.copies(), shop.clock()):
        return False
    make_copy(shop.records, folder, shop.clock())
    return True


def start_daily(
    shop: Shop, keeping: Keeping, first: float = FIRST, again: float = AGAIN
) -> Callable[[], None]:
    """Look now and then whether a copy is due and figures wait; returns what ends it, called before the records are closed."""
    ending = threading.Event()

    def work() -> None:
        wait = first
        while not ending.wait(wait):
            wait = again
            for chore in (lambda: copy_if_due(shop, keeping), lambda: _kept_up(shop, ending)):
                try:
                    chore()
                except OhmsworthError:
                    continue  # tried again; what stands in the way stands on the page of the records

    thread = threading.Thread(target=work, name="beside the serving", daemon=True)
    thread.start()

    def end() -> None:
        ending.set()
        thread.join(LAST)

    return end


def _kept_up(shop: Shop, ending: threading.Event) -> None:
    """Look through the studies that were read since, so that nobody who asks how contacts age waits for it."""
    from ohmsworth.work.care.visited import (
        keep_up,  # with the statistics, for which the first page must not wait
    )

    left = keep_up(shop.records, AT_ONCE)
    while left and not ending.is_set():
        before, left = left, keep_up(shop.records, AT_ONCE)
        if left >= before:  # as many are being written to: later
            return
