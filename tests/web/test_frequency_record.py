"""Takes played and recorded from the page: nothing sounds unasked, what is heard is shown, and a page that goes ends it."""

from __future__ import annotations

import re
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from tests.fake_sounddevice import CallbackFlags, Samples, device
from tests.web.tone_bench import PLACE, QUESTION, SHORT, Bench, Plugs, hidden, plug_in, tone_bench

from ohmsworth.web.recorder import Recorder
from ohmsworth.work.lease import Lease
from ohmsworth.work.level_check import OnLevel
from ohmsworth.work.record_take import TakeTold
from ohmsworth.work.sound_run import SoundRun, SoundState

HERE = f"{PLACE}?record=yes"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with tone_bench(tmp_path) as made:
        made.plan()
        yield made


def begin(bench: Bench, status: int = 303, **more: str) -> str:
    """Choose the interface for the contact that the sheet leads to, and tick the cautions."""
    text = bench.page(HERE)
    names = ("key", "specimen", "condition", "mating", "step")
    fields = {name: hidden(text, name, 'action="/studies/1/frequency/record/begin"') for name in names}
    chosen = {"device": "1", "first": "1", "second": "2", "outputs": "", "ticked": "yes"}
    return bench.post("/record/begin", status, **(fields | chosen | more))


def play(bench: Bench, do: str, take: str, key: str) -> str:
    """Press a button, and look at the levels until nothing sounds any more."""
    bench.post("/record/play", 303, do=do, take=take, key=key)
    asked = f"{PLACE}/record/now?holder={key}"
    bench.until(lambda: bench.client.get(asked).headers.get("hx-refresh"))
    return bench.page(f"{HERE}&holder={key}")


def test_without_the_library_it_says_how_to_install_it_and_sending_still_works(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    text = bench.page(HERE)
    assert "pip install ohmsworth[audio]" in text
    assert "an optional part" in text
    assert "from files works without it" in text
    assert "No module named" not in text
    assert f'action="{PLACE}/takes"' in text
    assert "record/begin" not in text


def test_a_bench_without_audio_and_a_computer_without_an_interface_say_so(
    tmp_path: Path, bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = plug_in(monkeypatch)
    fake.devices = (device("built-in", 1, 2),)
    assert "No device plays and records" in bench.page(HERE)
    (tmp_path / "other").mkdir()
    with tone_bench(tmp_path / "other", audio=False) as silent:
        silent.plan()
        assert "started without it" in silent.page(HERE)


def test_no_interface_is_looked_for_until_somebody_asks(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = plug_in(monkeypatch)
    monkeypatch.setattr(fake, "query_devices", lambda: pytest.fail("looked for devices"))
    assert "Look for an interface" in bench.page()


def test_nothing_is_begun_before_the_cautions_are_ticked(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = plug_in(monkeypatch)
    refused = begin(bench, 422, ticked="", device="", first="1", second="1", outputs="0")
    for words in ("the cautions", "interface", "inputs", "outputs"):
        assert words in refused
    assert 'name="second" value="1"' in refused
    answer = bench.client.post(f"{PLACE}/record/play", data={"do": "take", "take": "straight", "key": "k"})
    assert answer.status_code == 422
    assert fake.streams == []


def test_level_both_takes_and_the_impedance(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    plugs = Plugs(gain=0.1)
    fake = plug_in(monkeypatch, plugs)
    begin(bench)
    text = bench.page(HERE)
    assert "take 1 of 2" in text
    assert "connect as the card draws it: shunt on input 1" in text
    assert fake.streams == []
    text = play(bench, "level", "straight", "a")
    assert "Turn the gain of input 1 up by" in text
    assert re.search(r'<meter id="level-1"[^>]*value="-1?\d\.\d"', text)
    plugs.gain = 0.35
    assert "That is right" in play(bench, "level", "straight", "b")
    text = play(bench, "take", "straight", "c")
    assert "straight.wav: good" in text
    assert "take 2 of 2" in text
    assert "exchange the two plugs" in text
    plugs.exchanged = True
    assert "swapped.wav: good" in play(bench, "take", "swapped", "d")
    text = bench.page(HERE)
    assert "Every take is recorded" in text
    kept = bench.post("/record/keep", 200)
    (take,) = bench.state.takes
    assert [one.name for one in take.files["straight"]] == ["straight.wav"]
    large = re.search(r'<p class="large[^"]*">([\d.]+) ± ([\d.]+) mΩ</p>', kept)
    assert large
    # A tenth of the shunt's 100 mΩ lies at the other input.
    assert float(large[1]) == pytest.approx(10.0, abs=float(large[2]))
    assert "Mating 2 of 2 of the sheet" in kept
    assert len(fake.streams) == 4


def test_a_take_is_recorded_again_in_its_place(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    plugs = Plugs(gain=3.0)
    plug_in(monkeypatch, plugs)
    begin(bench)
    assert "straight.wav: not good" in play(bench, "take", "straight", "a")
    plugs.gain = 0.35
    assert "straight.wav: good" in play(bench, "take", "straight", "b")


def test_what_was_lost_is_told_and_nothing_is_kept(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    plug_in(monkeypatch, flags={30: CallbackFlags("input_overflow")})
    begin(bench)
    text = play(bench, "take", "straight", "a")
    assert "record again" in text
    assert "take 1 of 2" in text


class Held:
    """A wire that passes some blocks, and then holds the sound up until it is let go."""

    def __init__(self, blocks: int = 8) -> None:
        self.left, self.go, self.reached = blocks, threading.Event(), threading.Event()

    def __call__(self, out: Samples, inputs: int) -> Samples:
        self.left -= 1
        if self.left < 0:
            self.reached.set()
            self.go.wait(20)
        return np.asarray(np.repeat(0.3 * out[:, :1], inputs, axis=1), np.float32)


def test_stop_is_there_while_tones_are_playing_and_ends_them(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    held = Held()
    fake = plug_in(monkeypatch, held)
    begin(bench)
    bench.post("/record/play", 303, do="take", take="straight", key="mine")
    assert held.reached.wait(20)
    text = bench.page(f"{HERE}&holder=mine")
    assert "Tones are playing" in text
    assert 'data-sounds="mine"' in text
    form = re.search(r'<form method="post" action="[^"]*/record/stop">(.*?)</form>', text, re.DOTALL)
    assert form
    assert "autofocus" in form[1]
    part = bench.page(f"{PLACE}/record/now?holder=mine", **{"HX-Request": "true"})
    assert part.count("<meter") == 2
    assert "hx-get" in part
    # Another page shows the same, and does not hold it; nor may a second sound begin.
    other = bench.page(HERE)
    assert "data-sounds" not in other
    assert "holder=mine" not in other
    assert "tones are playing" in bench.post("/record/play", 422, do="level", take="straight", key="other")
    threading.Timer(0.2, held.go.set).start()
    bench.post("/record/stop", 303)
    assert "Stopped. Nothing of it was kept." in bench.page(HERE)
    assert fake.streams[-1].closed
    assert list((bench.client.app.state.recorder.at_hand().bench.folder).iterdir()) == []  # type: ignore[attr-defined]


def test_the_page_that_began_it_ends_it_when_it_is_left(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    held = Held()
    plug_in(monkeypatch, held)
    begin(bench)
    bench.post("/record/play", 303, do="take", take="straight", key="mine")
    assert held.reached.wait(20)
    bench.post("/record/stop", 204, leaving="another")
    assert "Tones are playing" in bench.page(HERE)
    threading.Timer(0.2, held.go.set).start()
    bench.post("/record/stop", 204, leaving="mine")
    assert "Stopped" in bench.page(HERE)


def test_a_page_that_says_nothing_more_loses_the_sound() -> None:
    ticks = iter(np.arange(0.0, 1000.0, 0.5))
    lease = Lease(2.0, lambda: float(next(ticks)))
    heard: list[float] = []

    def sound(on_level: OnLevel) -> TakeTold:
        for step in range(100):
            on_level(0.25 * step, (0.1, 0.2))
            heard.append(step)
        return TakeTold(True, ())

    run = SoundRun(SoundState("mine", "straight.wav", 25.0), sound, lease)
    run.start()
    run.join(10)
    state = run.state()
    assert state.over
    assert "was gone" in state.why
    assert 0 < len(heard) < 10
    assert state.highest == (0.1, 0.2)


def test_a_page_that_asks_holds_it_and_another_does_not() -> None:
    now = [0.0]
    lease = Lease(2.0, lambda: now[0])
    for key, ends in (("mine", False), ("another", True)):
        step = threading.Semaphore(0)

        def sound(on_level: OnLevel, step: threading.Semaphore = step) -> TakeTold:
            for number in range(6):
                step.acquire(timeout=10)
                on_level(float(number), (0.1, 0.1))
            return TakeTold(True, ("done",))

        run = SoundRun(SoundState("mine", "straight.wav", 6.0), sound, lease)
        run.start()
        for _ in range(6):
            now[0] += 1.5
            run.watch(key)
            step.release()
            time.sleep(0.05)
        run.join(10)
        assert ("was gone" in run.state().why) is ends


def test_a_program_that_fails_is_told_and_silent() -> None:
    def sound(on_level: OnLevel) -> TakeTold:
        raise RuntimeError("secret")

    run = SoundRun(SoundState("mine", "straight.wav", 6.0), sound)
    run.start()
    run.join(10)
    assert run.state().over
    assert "RuntimeError" in run.state().why
    assert "secret" not in run.state().why


def test_another_study_is_told_that_the_interface_is_taken(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    plug_in(monkeypatch)
    begin(bench)
    play(bench, "take", "straight", "a")
    bench.client.post("/studies/new", data=QUESTION | {"key": "another"})
    other = "/studies/2/frequency"
    bench.client.post(other, data=SHORT)
    text = bench.page(f"{other}?record=yes")
    assert 'href="/studies/1/frequency#record"' in text
    recorder: Recorder = bench.client.app.state.recorder  # type: ignore[attr-defined]
    hand = recorder.at_hand()
    assert hand is not None
    bench.post("/record/give-up", 303)
    assert not hand.bench.folder.exists()
    assert "record/begin" in bench.page(f"{other}?record=yes")
    assert bench.state.takes == ()
