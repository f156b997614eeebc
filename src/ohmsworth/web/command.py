"""``ohmsworth bench``: serve the shop's records to the browser of this machine, or of the shop's network."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

Hidden = Parameter(show_default=False)


def bench(
    *,
    records: str | None = None,
    port: Annotated[int | None, Hidden] = None,
    open_: Annotated[bool, Parameter(name="--open", negative="--no-open")] = True,
    practice: Annotated[bool, Parameter(negative=())] = False,
    accounts: Annotated[bool, Parameter(negative=())] = False,
    address: str = "127.0.0.1",
    certificate: Path | None = None,
    key: Path | None = None,
    called: Annotated[tuple[str, ...], Parameter(negative=(), show_default=False)] = (),
    behind_proxy: str = "",
    proxy_address: Annotated[tuple[str, ...], Parameter(negative=(), show_default=False)] = (),
) -> None:
    """Open the bench in the browser: readings, studies and the shop's records on this machine.

    A bench that serves the same records already is opened instead of a second one. Ctrl-C ends it.

    Parameters
    ----------
    records
        Where the records are: a file, or postgresql://...; else OHMSWORTH_RECORDS, else this user's own.
    port
        The port; else 8614, or the next one that is free.
    open_
        Open the browser.
    practice
        Learn it without any instrument: simulated meters, invented readings, and records of their own.
    accounts
        Ask for a sign-in on this machine, too.
    address
        The IP address of this machine to listen on. Any but 127.0.0.1 lets others in, with accounts and a certificate.
    certificate
        The certificate for others (PEM).
    key
        Its key (PEM, without a password).
    called
        A name by which browsers call the bench; else those of the certificate.
    behind_proxy
        The address of a reverse proxy that has the certificate, such as https://bench.shop.lan.
    proxy_address
        An IP address from which that proxy calls; else this machine.
    """
    from ohmsworth.web.serve.start import Wish, start
    from ohmsworth.web.serve.terms import Reach

    reach = Reach(address, certificate, key, behind_proxy, proxy_address, called, accounts)
    start(Wish(records, port, reach, open_, practice))
