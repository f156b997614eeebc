"""People and programs at a bench who send readings, and write down which of them were confirmed."""

import http.client
import json
import random
import re
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from urllib.parse import urlencode

#: Seconds for one answer; far more than it takes.
PATIENCE = 60
TOML = 'question = "Is it within?"\nreference = "new"\n[limit]\nresistance = "4 mΩ"\nsource = "datasheet"\n'
FORM = "application/x-www-form-urlencoded"


@dataclass(frozen=True)
class Answer:
    status: int
    text: str

    @property
    def words(self) -> str:
        """What a person reads: no tags, no doubled blanks."""
        return " ".join(re.sub(r"<[^>]*>", " ", self.text).split())


@dataclass
class Caller:
    """Somebody who asks one server; `port` may change, as after a new start."""

    port: int
    who: str = ""
    scripts: bool = False

    def ask(self, method: str, path: str, fields: dict[str, str] | None = None) -> Answer:
        """A page, or a form that is sent."""
        headers = {"Content-Type": FORM} | ({"HX-Request": "true"} if self.scripts else {})
        return self._ask(method, path, urlencode(fields) if fields else None, headers)

    def api(self, method: str, path: str, sent: object = None) -> Answer:
        headers = {"Content-Type": "application/json"}
        return self._ask(method, f"/api{path}", None if sent is None else json.dumps(sent), headers)

    def _ask(self, method: str, path: str, body: str | None, headers: dict[str, str]) -> Answer:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)
        try:
            named = {"Cookie": f"who={self.who}"} if self.who else {}
            connection.request(method, path, body, headers | named)
            answer = connection.getresponse()
            return Answer(answer.status, answer.read().decode())
        finally:
            connection.close()


def new_study(port: int, key: str = "study-key-1") -> int:
    """A study with a sheet of 24 steps."""
    sent = {"key": key, "toml": TOML, "conditions": ["new", "tarnished"], "specimens": 3, "matings": 2}
    answer = Caller(port).api("POST", "/studies", sent)
    assert answer.status == 201, answer.text
    return int(json.loads(answer.text)["number"])


def for_program(
    key: str, specimen: str = "new 1", volts: str = "0.2513 mV", **more: object
) -> dict[str, object]:
    """A reading as a program sends it; its doubts, if any, are answered beforehand."""
    return {
        "key": key, "specimen": specimen, "condition": "new", "mating": "1", "polarity": "+",
        "voltage": volts, "current": "100.02 mA", "anyway": "typed by a test", **more,
    }  # fmt: skip


def for_form(key: str, specimen: str = "new 1", volts: str = "0.2513", **more: str) -> dict[str, str]:
    """The same as the form of the bench sends it."""
    return {
        "key": key, "specimen": specimen, "condition": "new", "mating": "1", "polarity": "+", "step": "",
        "voltage": volts, "voltage_unit": "mV", "current": "100.02", "current_unit": "mA",
        "anyway": "typed by a test", "volunteered": "yes", **more,
    }  # fmt: skip


@dataclass
class Writer:
    """Sends one reading after the other until told to stop; one whose answer never came is sent again under its key."""

    name: str
    study: int
    form: bool = False
    scripts: bool = True
    sent: int = 0
    confirmed: list[str] = field(default_factory=list)
    told: list[Answer] = field(default_factory=list)

    @property
    def key(self) -> str:
        return f"{self.name}-{self.sent:05d}"

    def stream(self, port: int, enough: threading.Event, again: bool = False) -> None:
        """Send to one server until `enough`, or until it is gone; with `again`, go on when it is back."""
        caller = Caller(port, scripts=self.scripts)
        chance = random.Random(self.key)
        while not enough.is_set():
            try:
                answer = self._send(caller, f"{0.25 * (1 + chance.gauss(0, 0.02)):.4f}")
            except (OSError, http.client.HTTPException):
                if not again:
                    return
                enough.wait(0.05)
                continue
            if answer.status == 200:
                self.confirmed.append(self.key)
                self.sent += 1
            else:
                self.told.append(answer)
                enough.wait(0.05)

    def _send(self, caller: Caller, volts: str) -> Answer:
        specimen = f"{self.name} {self.sent // 50}"
        if self.form:
            return caller.ask("POST", f"/studies/{self.study}/bench", for_form(self.key, specimen, volts))
        sent = for_program(self.key, specimen, f"{volts} mV")
        return caller.api("POST", f"/studies/{self.study}/readings", sent)


def four_writers(study: int) -> list[Writer]:
    """Two programs and two people."""
    return [Writer(f"{'person' if n % 2 else 'program'}-{n}", study, form=bool(n % 2)) for n in range(4)]


@contextmanager
def writing(
    writers: Sequence[Writer], ports: Sequence[int], again: bool = False
) -> Iterator[threading.Event]:
    """All of them at it, each at the port beside it; they have ended when this is left."""
    enough = threading.Event()
    threads = [
        threading.Thread(target=writer.stream, args=(port, enough, again))
        for writer, port in zip(writers, ports, strict=True)
    ]
    for thread in threads:
        thread.start()
    try:
        yield enough
    finally:
        enough.set()
        for thread in threads:
            thread.join(2 * PATIENCE)
            assert not thread.is_alive()


def confirmed(writers: Sequence[Writer]) -> list[str]:
    return [key for writer in writers for key in writer.confirmed]
