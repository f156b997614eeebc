"""However the program ends, the far end of the line sees the current go off."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from tests.adapters.instruments.benches import practice

SOURCE = Path(__file__).parents[3] / "src"
PROGRAM = """
import signal, sys, threading, time
# Whatever runs the tests may have been told to ignore them, as a job in the background is.
signal.signal(signal.SIGINT, signal.default_int_handler)
if hasattr(signal, "SIGHUP"):
    signal.signal(signal.SIGHUP, signal.SIG_DFL)
from ohmsworth import wiring
from ohmsworth.work.source_limits import DRY_LIMITS
how, address = sys.argv[1:]
if how in ("thread", "server"):
    wiring.guard_current()
def run():
    source = wiring.open_source(wiring.load_profiles().sources["SCPI current source"], address, DRY_LIMITS, 60.0)
    source.switch_on(0.1)
    print("on", flush=True)
    return source
if how == "server":
    import uvicorn
    async def app(scope, receive, send):
        if scope["type"] == "lifespan":
            await receive()
            thread = threading.Thread(target=run)
            thread.start()
            await send({"type": "lifespan.startup.complete"})
            await receive()
            await send({"type": "lifespan.shutdown.complete"})
    uvicorn.run(app, port=0, log_level="critical")
    sys.exit(3)
elif how == "thread":
    thread = threading.Thread(target=run); thread.start(); thread.join()
else:
    source = run()
if how == "error":
    raise RuntimeError("a mistake somewhere else")
if how == "question":
    source._step_wait = 0.0
    while True:
        source.set_current(0.05); source.set_current(0.1)
if how != "end":
    for _ in range(600):
        time.sleep(0.1)
"""


@contextmanager
def running(how: str, address: str) -> Iterator[subprocess.Popen[str]]:
    program = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, how, address],
        env={**os.environ, "PYTHONPATH": str(SOURCE)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert program.stdout is not None
    with program:
        try:
            assert program.stdout.readline().strip() == "on"
            yield program
        finally:
            program.kill()


def offs(bench) -> int:
    return bench.heard.count(("source", "OUTPut OFF"))


@pytest.mark.skipif(os.name == "nt", reason="signals of this kind are not sent on this system")
@pytest.mark.parametrize("how", ["wait", "thread", "question", "server"])
@pytest.mark.parametrize("name", ["SIGTERM", "SIGINT", "SIGHUP"])
def test_a_signal_switches_it_off(name: str, how: str) -> None:
    with practice() as (bench, _), running(how, bench.addresses["source"]) as program:
        if how == "question":
            time.sleep(0.3)
        else:
            assert bench.bench.output
        before = offs(bench)
        program.send_signal(getattr(signal, name))
        _, told = program.communicate(timeout=20)
        assert program.returncode != 0  # it did end
        assert not bench.bench.output
        assert offs(bench) > before
        assert "may still be on" not in told


@pytest.mark.parametrize("how", ["end", "error"])
def test_the_end_of_the_program_switches_it_off(how: str) -> None:
    with practice() as (bench, _), running(how, bench.addresses["source"]) as program:
        program.communicate(timeout=20)
        assert not bench.bench.output
        assert offs(bench) >= 2


@pytest.mark.skipif(os.name == "nt", reason="signals of this kind are not sent on this system")
def test_what_cannot_be_switched_off_at_the_end_is_said_loudly() -> None:
    with practice() as (bench, _), running("wait", bench.addresses["source"]) as program:
        bench.vanish("source")
        program.send_signal(signal.SIGTERM)
        _, told = program.communicate(timeout=60)
        assert "The current may still be on: switch the source off by hand." in told
