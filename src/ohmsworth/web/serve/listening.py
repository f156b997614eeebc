"""The socket: on the port that was asked for, or on the next one that is free."""

from __future__ import annotations

import errno
import socket
import sys
from ipaddress import ip_address

from ohmsworth.errors import Fault, InputRefused

#: Where a bench is usually found; the numbers after it are tried where another program has it.
USUAL_PORT = 8614
TRIED = 20
#: Connections that wait while the program still loads.
WAITING = 128


def is_loopback(address: str) -> bool:
    """Whether only this machine can reach `address` (127.0.0.0/8, ::1)."""
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False


def listen(address: str, port: int | None) -> socket.socket:
    """A socket that listens already; connections wait in it until the server takes them.

    Parameters
    ----------
    address
        An IP address of this machine.
    port
        None for the usual one, or the next that is free.

    Raises
    ------
    InputRefused
        When the port, or the address, cannot be had.
    """
    tried = [port] if port is not None else [*range(USUAL_PORT, USUAL_PORT + TRIED), 0]
    for one in tried:
        try:
            return _listening(address, one)
        except OSError as error:
            taken = error.errno in (errno.EADDRINUSE, errno.EACCES)
            if not taken or one == tried[-1]:
                raise InputRefused((_fault(address, one, error),)) from error
    raise AssertionError("the last one that is tried is returned or refused")


def _listening(address: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in address else socket.AF_INET
    # Said to be TCP, so that the event loop sends what is short at once: it leaves a socket alone that does not say so, and
    # the second part of every answer then waits 40 ms for the browser to confirm the first.
    made = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if sys.platform == "win32":
            made.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind((address, port))
        made.listen(WAITING)
        made.setblocking(False)
    except BaseException:
        made.close()
        raise
    return made


def _fault(address: str, port: int, error: OSError) -> Fault:
    if error.errno == errno.EADDRINUSE:
        return Fault(
            "--port",
            f"port {port}, which another program has",
            "one that is free",
            "Leave --port out, and a free one is chosen.",
        )
    if error.errno == errno.EACCES:
        return Fault(
            "--port",
            f"port {port}, which this user may not have",
            "one above 1023",
            "Leave --port out, and a free one is chosen.",
        )
    return Fault(
        "--address",
        f"{address} ({error.strerror or error})",
        "an address of this machine",
        "Leave --address out for this machine alone.",
    )
