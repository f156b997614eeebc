"""``ohmsworth bench``: serve the shop's records to the browser of this machine, or of the shop's network."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter


def bench(
    *,
    records: str | None = None,
    port: Annotated[int | None, Parameter(show_default=False)] = None,
    address: str = "127.0.0.1",
    open_: Annotated[bool, Parameter(name="--open", negative="--no-open")] = True,
) -> None:
    """Open the bench in the browser: readings, studies and the shop's records on this machine.

    A bench that serves the same records already is opened instead of a second one. Ctrl-C ends it.

    Parameters
    ----------
    records
        Where the records are: a file, or postgresql://...; else OHMSWORTH_RECORDS, else this user's own.
    port
        The port; else 8614, or the next one that is free.
    address
        The address of this machine to listen on. Any but 127.0.0.1 lets others in.
    open_
        Open the browser.
    """
    from ohmsworth.web.serve.start import Wish, start

    start(Wish(records, port, address, open_browser=open_))
