"""From a wish to a bench that serves, and to its end in order."""

from __future__ import annotations

import os
import secrets
import socket
import threading
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from ohmsworth import wiring
from ohmsworth.web.serve.browser import open_browser
from ohmsworth.web.serve.daily import start_daily
from ohmsworth.web.serve.listening import listen
from ohmsworth.web.serve.notice import SUFFIX, Notice, ask, claim, new_secret, read_notice, withdraw
from ohmsworth.web.serve.practice import hold_apart, own_profiles, practice_records
from ohmsworth.web.serve.telling import say
from ohmsworth.web.serve.terms import Reach, Terms, in_url, settle

if TYPE_CHECKING:
    from fastapi import FastAPI

    from ohmsworth.web.door.callers import Door
    from ohmsworth.web.guard import App
    from ohmsworth.work.accounts import Accounts, Store
    from ohmsworth.work.instrument_ports import InstrumentPorts
    from ohmsworth.work.passwords import Hasher
    from ohmsworth.work.shop import Shop

#: Why a source is off when the program is told to end.
ENDED = "the bench was told to end"


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for on the command line.

    Parameters
    ----------
    records
        Path or address; None for this user's own.
    port
        None for a free one.
    reach
        Where to listen, and for whom.
    open_browser
        Whether to open it.
    practice
        Invented instruments and records of their own, in the place of the shop's.
    """

    records: str | None = None
    port: int | None = None
    reach: Reach = field(default_factory=Reach)
    open_browser: bool = True
    practice: bool = False


def start(wish: Wish) -> None:
    """Serve until the program is told to end, or open the bench that serves these records already.

    Raises
    ------
    InputRefused
        When it may not or cannot listen there.
    RecordsFault
        When the records cannot be opened.
    """
    records = practice_records(wish.records) if wish.practice else wish.records or wiring.default_records()
    note = notice_path(records)
    other = read_notice(note)
    if other is not None and ask(other):
        _go_to(other, wish)
        return
    from ohmsworth.work.people import offices

    with ExitStack() as ending:
        store = ending.enter_context(wiring.open_store(records))
        hold_apart(store.records, wish.practice)
        terms = settle(wish.reach, len(offices(store.accounts)), _now())
        listening = ending.enter_context(listen(terms.address, wish.port))
        own = _notice(terms, listening.getsockname()[1])
        other = claim(note, own, ask)
        if other is not None:
            _go_to(other, wish)
            return
        ending.callback(withdraw, note, own)
        _serve(wish, terms, store, own, listening, records)
    say("The bench is closed. Everything that was confirmed is in the records.")


def _notice(terms: Terms, port: int) -> Notice:
    asked = {"0.0.0.0": "127.0.0.1", "::": "::1"}.get(terms.address, terms.address)  # noqa: S104
    return Notice(os.getpid(), terms.shown(port), f"{asked}:{port}", terms.context is not None, new_secret())


def _serve(
    wish: Wish, terms: Terms, store: Store, own: Notice, listening: socket.socket, records: str
) -> None:
    from ohmsworth.web.serve.instruments import instruments, practice_instruments
    from ohmsworth.web.serve.proxied import Proxied
    from ohmsworth.web.serve.server import AfterFirstPage, server_for

    # Before the server has signals of its own: it passes them on when it has ended.
    wiring.guard_current()
    profiles = own_profiles(records)
    ports = practice_instruments(profiles) if wish.practice else instruments(profiles)
    app = _application(terms, store, own, ports, records)

    def warm_up() -> None:
        app.state.rest.load()
        wiring.draw_apart()
        wiring.warm_up()

    def ready() -> None:
        say(f"The bench: {own.address}   Records: {in_words(records)}   (Ctrl-C ends it)")
        if wish.practice:
            say("Practice: these readings are invented.")
        if terms.until is not None:
            say(f"The certificate holds until {terms.until:%Y-%m-%d}.")
        if wish.open_browser:
            threading.Thread(target=_show, args=(own.address,), name="browser", daemon=True).start()

    app.state.at_end.append(start_daily(app.state.shop, app.state.keeping))
    outer: App = AfterFirstPage(app, warm_up)
    if terms.proxy:
        outer = Proxied(outer, terms.proxy, terms.proxies)
    try:
        server_for(outer, terms.context, ready, lambda: ports.switch_all_off(ENDED)).run([listening])
    finally:
        for end in app.state.at_end:
            end()


def _application(terms: Terms, store: Store, own: Notice, ports: InstrumentPorts, records: str) -> FastAPI:
    from ohmsworth.web.app import Serving, create_app

    shop = wiring.shop(store.records)
    serving = Serving(
        terms.hosts,
        wiring.typeface_folder(),
        drawing=wiring.drawing(),
        instruments=ports,
        secret=own.secret,
        keeping=wiring.keeping(records, in_words(records), copies_beside(records)),
        papers=wiring.paper_ports(key_beside(records)),
        door=make_door(shop, store.accounts, wiring.password_hasher(), terms),
        recording=wiring.recording_ports,
        lazily=True,
    )
    return create_app(shop, serving)


def make_door(shop: Shop, accounts: Accounts, hasher: Hasher, terms: Terms) -> Door:
    """Who is let in on these terms."""
    from ohmsworth.web.door.callers import Door
    from ohmsworth.work.door_book import DoorBook
    from ohmsworth.work.people import People
    from ohmsworth.work.programs import Programs
    from ohmsworth.work.sign_in import SignIns

    book = DoorBook(shop.records, shop.new_key)
    return Door(
        People(accounts, hasher, book),
        Programs(accounts, shop.clock, book, _new_token),
        book,
        SignIns(accounts, hasher, shop.clock, book, _new_token) if terms.accounts else None,
        terms.secure,
    )


def _now() -> datetime:
    return datetime.now(UTC)


def _new_token() -> str:
    return secrets.token_urlsafe(32)


def notice_path(records: str) -> Path:
    """Where the note of who serves `records` lies: beside the file, or for a database in this user's folder."""
    if "://" not in records:
        path = Path(os.path.abspath(Path(records).expanduser()))
        return path.with_name(path.name + SUFFIX)
    own = Path(wiring.default_records()).parent
    return own / f"{sha256(records.encode()).hexdigest()[:16]}{SUFFIX}"


def copies_beside(records: str) -> Path:
    """The folder of copies where the settings name none: beside the file, or for a database in this user's folder."""
    note = notice_path(records)
    return note.with_name(f"{note.name.removesuffix(SUFFIX).removesuffix('.records')} copies")


def key_beside(records: str) -> Path:
    """The shop's private key for signing papers: beside the file, or for a database in this user's folder."""
    note = notice_path(records)
    return note.with_name(f"{note.name.removesuffix(SUFFIX).removesuffix('.records')}.key")


def in_words(records: str) -> str:
    """The place of the records without a password."""
    if "://" not in records:
        return str(Path(os.path.abspath(Path(records).expanduser())))
    parts = urlsplit(records)
    return f"{parts.scheme}://{in_url(parts.hostname or '')}{parts.path}"


def _go_to(other: Notice, wish: Wish) -> None:
    say(f"These records are served already: {other.address}")
    if wish.open_browser:
        _show(other.address)


def _show(address: str) -> None:
    if not open_browser(address):
        say(f"No browser could be opened from here. Type this into one on this machine: {address}")
