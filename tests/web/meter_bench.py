"""A bench of pages before invented instruments on sockets of this computer, with one study."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from starlette.testclient import TestClient
from tests.web.policy import breaches

from ohmsworth import wiring
from ohmsworth.adapters.instruments import open_meter, open_source
from ohmsworth.adapters.instruments.guard import Guard
from ohmsworth.adapters.simulated import Contact, PracticeBench, ScpiBench
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.connections import Connection, Role
from ohmsworth.work.instrument_ports import InstrumentPorts
from ohmsworth.work.instruments import Profiles
from ohmsworth.work.records import Records

#: Seconds: short, since silence is waited for to the end.
TIMEOUT, LEASE = 0.3, 1.2
#: Seconds after which a test gives up.
PATIENCE = 15.0
FORM = {
    "question": "Do the tarnished contacts matter?", "conditions": "new", "limit": "4 mΩ", "limit_source": "datasheet",
    "specimens": "3", "matings": "2", "reversal": "yes", "key": "the-study",
}  # fmt: skip
PART = {"HX-Request": "true"}


def short_profiles() -> Profiles:
    """Those that come with the program, without patience."""
    known = wiring.load_profiles()
    return Profiles(
        {n: replace(one, talk=replace(one.talk, timeout=TIMEOUT)) for n, one in known.meters.items()},
        {n: replace(one, talk=replace(one.talk, timeout=TIMEOUT)) for n, one in known.sources.items()},
    )


def connected(addresses: dict[str, str], roles: tuple[str, ...]) -> dict[Role, Connection]:
    every: dict[Role, Connection] = {
        "voltmeter": Connection("SCPI voltmeter", addresses["voltmeter"]),
        "ammeter": Connection("SCPI ammeter", addresses["ammeter"]),
        "ohmmeter": Connection("SCPI ohmmeter, four-wire", addresses["ohmmeter"]),
        "source": Connection(
            "SCPI current source", addresses["source"], None, None, True, "100 mA", "20 mV", "", "100 mA", "0 s"
        ),
    }  # fmt: skip
    return {role: one for role, one in every.items() if role in roles}


@dataclass
class Bench:
    """The pages, the instruments behind them, and what they are told by a person."""

    client: TestClient
    practice: PracticeBench
    records: Records
    ports: InstrumentPorts

    def page(self, path: str = "/studies/1/bench", status: int = 200, **headers: str) -> str:
        answer = self.client.get(path, headers=headers)
        assert answer.status_code == status, answer.text
        assert breaches(answer.text, whole=not headers) == []
        return answer.text

    def post(self, path: str, **fields: str):
        return self.client.post(path, data=fields, headers=PART, follow_redirects=False)

    def begin(self, read: str = "one", **more: str):
        """Press a button that reads the meters, as the page that leads has it."""
        return self.post("/studies/1/bench/meters", **form_in(self.page()), read=read, **more)

    def read(self, read: str = "one", **more: str) -> str:
        """Press it and look until it has ended."""
        answer = self.begin(read, **more)
        return self.ended(answer.text)

    def ended(self, text: str) -> str:
        end = time.monotonic() + PATIENCE
        while found := re.search(r'hx-get="([^"]*/reading[^"]*)"', text):
            assert time.monotonic() < end
            time.sleep(0.05)
            answer = self.client.get(found[1].replace("&amp;", "&"), headers=PART)
            text = answer.text if answer.status_code != 204 else text
        return text

    def turned_to(self, text: str, words: str) -> str:
        """Look until the person is asked to turn the current."""
        end = time.monotonic() + PATIENCE
        while words not in text:
            assert time.monotonic() < end
            time.sleep(0.05)
            text = self.page()
        return text

    def kept(self):
        """The readings in the records."""
        from ohmsworth.work.study_log import fold

        return fold(self.records.lines(1)).counted

    def until(self, true: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE
        while not true():
            assert time.monotonic() < end
            time.sleep(0.02)


def form_in(text: str) -> dict[str, str]:
    """The hidden fields of the form that takes readings."""
    names = ("key", "step", "specimen", "condition", "contact", "mating", "polarity")
    found = {name: re.search(rf'name="{name}" value="([^"]*)"', text) for name in names}
    return {name: one[1] for name, one in found.items() if one}


@contextmanager
def meter_bench(
    folder: Path,
    roles: tuple[str, ...] = ("voltmeter", "ammeter", "source"),
    contact: Contact | None = None,
    lease: float = LEASE,
) -> Iterator[Bench]:
    """A bench to which these are connected; `contact` lies on it, whatever the sheet says."""
    guard = Guard(say=lambda _: None, interval=0.05)
    simulated = ScpiBench(1, time.monotonic, contact or Contact(emf=0.0, noise=0.0))
    with (
        PracticeBench(simulated, late=2 * TIMEOUT) as practice,
        wiring.open_records(str(folder / "shop.records")) as records,
    ):
        ports = InstrumentPorts(
            lambda: (short_profiles(), ()),
            lambda: (("/dev/ttyUSB0", "a <serial> line"),),
            lambda profile, address, number: open_meter(profile, address, range_number=number),
            lambda profile, address, limits: open_source(
                profile, address, limits, lease_seconds=lease, guard=guard
            ),
            guard.switch_all_off,
            "the test",
            turn=lambda sign: simulated.turn_leads(sign == "-"),
        )
        if roles:
            ports = replace(ports, at_start=connected(practice.addresses, roles))
        app = create_app(
            wiring.shop(records),
            Serving(frozenset({"testserver"}), wiring.typeface_folder(), instruments=ports),
        )
        with TestClient(app) as client:
            client.cookies.set("who", "Ada")
            client.post("/studies/new", data=FORM)
            try:
                yield Bench(client, practice, records, ports)
            finally:
                for end in app.state.at_end:
                    end()
                guard.stop()
