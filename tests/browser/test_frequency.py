"""The page over frequency in a browser: for everybody, and with an interface that makes no sound."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, start_bench, violations
from tests.browser.test_every_page import LISTEN, LOOKS
from tests.web.tone_bench import PLACE, tone_bench

from ohmsworth.adapters.simulated.sound import TrueContact

pytestmark = [pytest.mark.browser, pytest.mark.slow]

ROOT = Path(__file__).parents[2]
#: Stands in the place of the library that plays and records; its time is that of the clock.
SHIM = """\
import sys, time
sys.path.insert(0, {root!r})
import numpy as np
from tests import fake_sounddevice as made
noise = np.random.default_rng(1)  # one for all blocks: noise that comes again with each is no noise
def wire(out, inputs):
    heard = 0.35 / 0.68 * out[:, :1] * np.array([1.0, 0.1])
    return (heard + noise.normal(0, 1e-6, heard.shape)).astype(np.float32)
fake = made.FakeSounddevice(made.device("bench interface", 2, 2), wire=wire, block=441, latency=4410)
PortAudioError, CallbackStop, CallbackFlags = made.PortAudioError, made.CallbackStop, made.CallbackFlags
query_devices, query_hostapis, Stream = fake.query_devices, fake.query_hostapis, fake.Stream
check_input_settings, check_output_settings = fake.check_input_settings, fake.check_output_settings
def sleep(msec):
    time.sleep(msec / 1000)
    fake.sleep(msec)
"""


@dataclass
class Bench:
    """A bench that serves, with two studies: one with takes, and one without tones."""

    served: Served
    take: int


@pytest.fixture(scope="module")
def tones(tmp_path_factory: pytest.TempPathFactory, browser: Any) -> Iterator[Bench]:
    folder = tmp_path_factory.mktemp("tones")
    with tone_bench(folder) as made:
        made.plan()
        for seed, mating in ((1, "1"), (2, "2")):
            made.send(
                "/takes", made.recorded(seed), key=mating, specimen="S1", condition="new", mating=mating
            )
        made.send("/standards", made.recorded(3, TrueContact(20e-6)), series="short", key="short")
        take = made.state.takes[0].reading.number
    (folder / "sounddevice.py").write_text(SHIM.format(root=str(ROOT)), "utf-8")
    before = os.environ.get("PYTHONPATH")
    os.environ["PYTHONPATH"] = os.pathsep.join([str(folder), *([before] if before else [])])
    try:
        served = start_bench(folder / "shop.records")
    finally:
        if before is None:
            del os.environ["PYTHONPATH"]
        else:
            os.environ["PYTHONPATH"] = before
    yield Bench(served, take)
    served.process.terminate()
    served.process.wait(20)
    assert served.process.stdout is not None
    served.process.stdout.close()


def test_with_takes_it_is_for_everybody(tones: Bench, browser: Any) -> None:
    wrong = []
    for size, screen in LOOKS:
        wide, tall = SIZES[size]
        context = browser.new_context(viewport={"width": wide, "height": tall})
        context.add_cookies([{"name": "screen", "value": screen, "url": tones.served.address}])
        context.add_init_script(LISTEN)
        page = context.new_page()
        for path in (PLACE, f"{PLACE}?record=yes", f"{PLACE}?do=free", f"{PLACE}/takes/{tones.take}"):
            page.goto(tones.served.address + path)
            page.evaluate("document.querySelectorAll('details').forEach(one => (one.open = true))")
            edge = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
            told = [f"runs over: {edge}"] if edge[0] > edge[1] else []
            told += page.evaluate("window.brokenPolicy || []") + violations(page)
            wrong += [f"{path}, {size}, {screen}: {one}" for one in told]
        context.close()
    assert wrong == [], "\n".join(wrong)


@pytest.mark.parametrize("wide", [800, 390])
def test_the_tables_of_takes_fit_their_screen(wide: int, tones: Bench, browser: Any) -> None:
    """A tablet and a telephone: nothing is scrolled sideways, no date is broken, and a remark stretches no column."""
    context = browser.new_context(viewport={"width": wide, "height": 1000})
    page = context.new_page()
    page.goto(tones.served.address + PLACE)
    page.evaluate(
        "document.querySelectorAll('.takes .remark td + td').forEach(one => one.prepend('doubtful '.repeat(60)))"
    )
    tables = page.locator(".scroll:has(> .takes)")
    assert tables.count() == 2
    for number in range(2):
        inside, shown = tables.nth(number).evaluate("one => [one.scrollWidth, one.clientWidth]")
        assert inside <= shown
    days = page.locator(".takes .day")
    assert days.count() > 3
    for number in range(days.count()):
        assert days.nth(number).evaluate("one => one.getClientRects().length") == 1
    context.close()


def test_levels_move_escape_is_silence_and_a_take_is_recorded(tones: Bench, browser: Any) -> None:
    context = browser.new_context(viewport={"width": 1180, "height": 820})
    page = context.new_page()
    page.goto(f"{tones.served.address}{PLACE}?record=yes#record")
    page.select_option("#device", "1")
    page.click("text=Begin with this contact")
    assert page.url.endswith("?record=yes#record")  # the browser asks for the tick
    page.check("[name=ticked]")
    page.click("text=Begin with this contact")
    page.click("text=Record this take")
    page.wait_for_selector("text=Tones are playing.")
    levels = set()
    for _ in range(40):
        levels.add(page.inner_text("#levels dd >> nth=0"))
        page.wait_for_timeout(100)
    assert len(levels) > 2
    assert page.evaluate("document.activeElement.id") == "stop"
    assert violations(page) == []
    page.keyboard.press("Escape")
    page.wait_for_selector("text=Stopped. Nothing of it was kept.")
    # To its end: the page looks anew by itself.
    page.click("text=Record this take")
    page.wait_for_selector("text=straight.wav: good", timeout=40_000)
    assert page.is_visible("text=take 2 of 2")
    assert violations(page) == []
    # Leaving the page ends what it has begun.
    page.click("text=Check the level")
    page.wait_for_selector("text=Tones are playing.")
    page.goto(f"{tones.served.address}/studies")
    page.goto(f"{tones.served.address}{PLACE}?record=yes")
    page.wait_for_selector("text=Stopped. Nothing of it was kept.")
    page.click("text=Give this contact up")
    page.wait_for_selector("#device")
    context.close()
