"""How the bench is reached: from which addresses, under which names, over what; and what is missing for it."""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from urllib.parse import SplitResult, urlsplit

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.web.serve.certificate import Certificate, read_certificate
from ohmsworth.web.serve.listening import is_loopback

#: The names of this machine for itself.
OWN_NAMES = frozenset({"127.0.0.1", "localhost", "::1"})
LOOPBACK = ("127.0.0.1", "::1")


@dataclass(frozen=True, slots=True)
class Reach:
    """What was asked for.

    Parameters
    ----------
    address
        IP address to listen on.
    certificate, key
        Files for TLS.
    behind_proxy
        The address by which browsers reach a reverse proxy that speaks TLS for the bench; "" without one.
    proxies
        From where that proxy calls.
    called
        Names by which browsers may call.
    accounts
        Ask for a sign-in on this machine alone, too.
    """

    address: str = "127.0.0.1"
    certificate: Path | None = None
    key: Path | None = None
    behind_proxy: str = ""
    proxies: tuple[str, ...] = ()
    called: tuple[str, ...] = ()
    accounts: bool = False

    @property
    def to_others(self) -> bool:
        """Whether anybody but this machine can reach it."""
        return not is_loopback(self.address) or bool(self.behind_proxy)


@dataclass(frozen=True, slots=True)
class Terms:
    """Settled before any socket is opened.

    Parameters
    ----------
    address
        IP address to listen on.
    hosts
        Names by which browsers may call.
    shown_name
        The name in the address that is shown.
    context
        TLS, where the server itself speaks it.
    until
        When the certificate ends.
    proxy
        The address of the reverse proxy, without a slash at its end; "" without one.
    proxies
        The only addresses that may call where there is a proxy.
    accounts
        Whether one has to sign in.
    """

    address: str
    hosts: frozenset[str]
    shown_name: str
    context: ssl.SSLContext | None = None
    until: datetime | None = None
    proxy: str = ""
    proxies: frozenset[str] = frozenset()
    accounts: bool = False

    @property
    def secure(self) -> bool:
        """Whether browsers come over TLS."""
        return self.context is not None or bool(self.proxy)

    def shown(self, port: int) -> str:
        """The address that a browser is sent to."""
        if self.proxy:
            return f"{self.proxy}/"
        return f"{'https' if self.context else 'http'}://{in_url(self.shown_name)}:{port}/"


def settle(reach: Reach, offices: int, now: datetime) -> Terms:
    """The terms on which the bench is served.

    Parameters
    ----------
    reach
        What was asked for.
    offices
        Accounts of the office that are not shut.
    now
        Today, for the certificate.

    Raises
    ------
    InputRefused
        With everything that is missing.
    """
    faults: list[Fault] = []
    certificate = None
    try:
        certificate = _certificate(reach, now)
    except InputRefused as error:
        faults += error.faults
    if (reach.to_others or reach.accounts) and not offices:
        faults.append(NO_OFFICE)
    if reach.to_others and not (reach.certificate or reach.key or reach.behind_proxy):
        faults.append(NO_TLS)
    proxy = _proxy(reach, faults)
    names = _names(reach, certificate, proxy, faults)
    if faults:
        raise InputRefused(tuple(faults))
    first = [
        *(name.lower().rstrip(".") for name in reach.called),
        *sorted(n for n in names if not _is_wild(n)),
    ]
    return Terms(
        reach.address,
        names if reach.to_others or certificate else names | OWN_NAMES | {reach.address},
        first[0] if first and (reach.to_others or certificate) else reach.address,
        certificate.context if certificate else None,
        certificate.until if certificate else None,
        proxy,
        frozenset(reach.proxies or LOOPBACK) if proxy else frozenset(),
        reach.to_others or reach.accounts,
    )


NO_OFFICE = Fault(
    "accounts",
    "nobody of the office",
    "one account with the role office, where others can reach the bench or a sign-in is asked for",
    'Add one: ohmsworth people add "NAME" --role office',
)
NO_TLS = Fault(
    "--certificate",
    "none",
    "a certificate with its key, since passwords and records would be read on the way",
    "Give both: --certificate bench.pem --key bench-key.pem; or a reverse proxy that has one: "
    "--behind-proxy https://bench.shop.lan. Without --address the bench serves this machine alone.",
)


def _certificate(reach: Reach, now: datetime) -> Certificate | None:
    if reach.certificate and reach.key:
        return read_certificate(reach.certificate, reach.key, now)
    if reach.certificate or reach.key:
        given, missing = ("--certificate", "--key") if reach.certificate else ("--key", "--certificate")
        raise InputRefused(
            (Fault(missing, "none", f"the file that belongs to {given}", f"Give {missing} too."),)
        )
    return None


def _proxy(reach: Reach, faults: list[Fault]) -> str:
    if not reach.behind_proxy:
        if reach.proxies:
            faults.append(
                Fault(
                    "--proxy-address",
                    ", ".join(reach.proxies),
                    "it beside --behind-proxy",
                    "Say which proxy it is: --behind-proxy https://bench.shop.lan.",
                )
            )
        return ""
    parts = _split(reach.behind_proxy)
    if (
        parts is None
        or parts.scheme != "https"
        or not parts.hostname
        or parts.path not in ("", "/")
        or parts.query
    ):
        faults.append(
            Fault(
                "--behind-proxy",
                shorten(reach.behind_proxy),
                "an address such as https://bench.shop.lan",
                "Give the address that people type; the proxy has to speak TLS with them.",
            )
        )
        return ""
    return f"https://{parts.netloc.lower()}"


def _split(address: str) -> SplitResult | None:
    try:
        parts = urlsplit(address)
        _ = parts.port
    except ValueError:
        return None
    return parts


def _names(reach: Reach, certificate: Certificate | None, proxy: str, faults: list[Fault]) -> frozenset[str]:
    """The names by which browsers may call: those that are stated, else those of the certificate or the proxy."""
    stated = frozenset(name.lower().rstrip(".") for name in reach.called)
    if certificate is not None:
        for name in sorted(stated):
            if not certificate.covers(name):
                known = ", ".join(sorted(certificate.names)) or "no name at all"
                faults.append(
                    Fault(
                        "--called",
                        shorten(name),
                        f"a name that the certificate holds for ({known})",
                        "Leave --called out, or have a certificate made for the name.",
                    )
                )
    if proxy:
        stated |= {urlsplit(proxy).hostname or ""}
    found = stated or frozenset(
        name for name in (certificate.names if certificate else ()) if not _is_wild(name)
    )
    if not found and reach.to_others and not faults:
        faults.append(
            Fault(
                "--called",
                "none, and the certificate holds for no single name",
                "the name by which browsers call the bench",
                "Say it: --called bench.shop.lan.",
            )
        )
    return found


def _is_wild(name: str) -> bool:
    return name.startswith("*.")


def in_url(address: str) -> str:
    """An IP address or a name as it stands in a URL."""
    return f"[{address}]" if ":" in address else address
