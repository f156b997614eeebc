"""A bench of pages with one study over frequency: short tones, contacts that do not exist, and an interface without sound."""

from __future__ import annotations

import re
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from starlette.testclient import TestClient
from tests.fake_sounddevice import FakeSounddevice, Samples, device
from tests.web.policy import breaches

from ohmsworth import wiring
from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.simulated.sound import Input, Interface, Take, TrueContact, TrueShunt, Truth, simulate
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.records import Records
from ohmsworth.work.study_log import StudyState, fold
from ohmsworth.work.study_tones import StudyTones, tones_of

#: Seconds after which a test gives up.
PATIENCE = 20.0
QUESTION = {
    "question": "Do the contacts matter over frequency?", "conditions": "new", "limit": "12 mΩ", "limit_source": "datasheet",
    "specimens": "2", "matings": "1", "reversal": "yes", "key": "the-study", "check_name": "shunt 5", "check_value": "9 mΩ",
    "check_uncertainty": "10 µΩ",
}  # fmt: skip
#: Tones that take six seconds or so to play.
SHORT = {
    "contact": "10 mΩ", "current": "20 mA", "lowest": "100 Hz", "highest": "2 kHz", "number": "4", "way": "together",
    "time": "3 s", "rate": "44.1 kHz", "level_check": "1 s", "output_full_scale": "1.4 V", "output_channels": "2",
    "noise": "2 µV", "crosstalk": "-120 dB", "series": "47 Ω", "bridge": "0.82 Ω", "shunt": "100 mΩ", "tolerance": "±0.5 %",
    "change": "form",
}  # fmt: skip
CONTACT = TrueContact(resistance=9e-3, inductance=40e-9)
INTERFACE = Interface(
    (Input(0.004, 1.004, noise=1e-7), Input(0.004, 0.994, noise=1e-7)), start=3000.3, after=0.2
)
PLACE = "/studies/1/frequency"


@dataclass
class Bench:
    """The pages and the records behind them."""

    client: TestClient
    records: Records
    folder: Path

    def page(self, path: str = PLACE, status: int = 200, **headers: str) -> str:
        answer = self.client.get(path, headers=headers)
        assert answer.status_code == status, answer.text
        assert breaches(answer.text, whole=not headers) == []
        return answer.text

    def post(self, path: str, status: int = 200, **fields: str) -> str:
        answer = self.client.post(PLACE + path, data=fields, follow_redirects=False)
        assert answer.status_code == status, answer.text
        return answer.text

    def send(self, path: str, sounds: dict[str, list[Path]], status: int = 200, **fields: str) -> str:
        """Send recordings by how the contact was connected, as the form does."""
        files = [
            (kind, (one.name, one.read_bytes(), "audio/wav")) for kind, ones in sounds.items() for one in ones
        ]
        answer = self.client.post(PLACE + path, data=fields, files=files or [("nothing", ("", b""))])
        assert answer.status_code == status, answer.text
        assert breaches(answer.text, whole=True) == []
        return answer.text

    def plan(self, **changes: str) -> None:
        self.post("", 303, **(SHORT | changes))

    @property
    def state(self) -> StudyState:
        return fold(self.records.lines(1))

    @property
    def tones(self) -> StudyTones:
        found = tones_of(wiring.shop(self.records), 1, self.state)
        assert found is not None
        return found

    def recorded(
        self, seed: int, contact: TrueContact = CONTACT, kinds: tuple[Take, ...] = ("straight", "swapped")
    ) -> dict[str, list[Path]]:
        """Recordings of a contact that does not exist, of these tones."""
        found: dict[str, list[Path]] = {}
        for kind in kinds:
            path = self.folder / f"{seed}-{kind}.wav"
            truth = Truth(contact, TrueShunt(0.1))
            tones = self.tones
            write_recording(path, simulate(tones.plan, tones.wishes.circuit, truth, INTERFACE, seed, kind))
            found[kind] = [path]
        return found

    def until(self, true: Callable[[], Any]) -> None:
        end = time.monotonic() + PATIENCE
        while not true():
            assert time.monotonic() < end
            time.sleep(0.02)


def hidden(text: str, name: str, after: str = "") -> str:
    """The value of a hidden field, the first one after some words."""
    found = re.search(rf'name="{name}" value="([^"]*)"', text[text.index(after) :])
    assert found, name
    return found[1]


@contextmanager
def tone_bench(folder: Path, audio: bool = True) -> Iterator[Bench]:
    with wiring.open_records(str(folder / "shop.records")) as records:
        serving = Serving(
            frozenset({"testserver"}),
            wiring.typeface_folder(),
            drawing=wiring.drawing(),
            recording=wiring.recording_ports if audio else None,
        )
        app = create_app(wiring.shop(records), serving)
        with TestClient(app) as client:
            client.cookies.set("who", "Ada")
            client.post("/studies/new", data=QUESTION)
            try:
                yield Bench(client, records, folder)
            finally:
                for end in app.state.at_end:
                    end()


class Plugs:
    """Shunt and contact at the inputs; the first hears ten times the second, and somebody may exchange them.

    The tones of `SHORT` peak at about 0.68 of full scale.
    """

    def __init__(self, gain: float = 0.35) -> None:
        self.gain, self.exchanged = gain, False
        self._rng = np.random.default_rng(8)

    def __call__(self, out: Samples, inputs: int) -> Samples:
        shares = np.array([1.0, 0.1])[:: -1 if self.exchanged else 1]
        heard = self.gain / 0.68 * out[:, :1] * shares
        return np.asarray(np.clip(heard + self._rng.normal(0, 1e-6, heard.shape), -1, 1), np.float32)


def plug_in(
    monkeypatch: pytest.MonkeyPatch, wire: Callable[[Samples, int], Samples] | None = None, **how: Any
) -> FakeSounddevice:
    """An interface of two inputs at this computer, without any sound."""
    fake = FakeSounddevice(
        device("bench interface", 2, 2), wire=wire or Plugs(), block=4410, latency=4410, **how
    )
    monkeypatch.setitem(sys.modules, "sounddevice", fake)  # type: ignore[arg-type]
    return fake
