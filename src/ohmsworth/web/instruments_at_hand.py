"""What a page handler takes from its application about instruments."""

from __future__ import annotations

from typing import cast

from fastapi import FastAPI, Request

from ohmsworth.work.bench_meters import BenchMeters
from ohmsworth.work.instrument_ports import InstrumentPorts
from ohmsworth.work.meter_run import Runs
from ohmsworth.work.records import Records


def put_instruments(app: FastAPI, ports: InstrumentPorts, records: Records) -> None:
    """Give `app` its instruments, and have them let go when it ends."""
    meters, runs = BenchMeters(ports, records), Runs()
    app.state.meters, app.state.runs = meters, runs
    #: What every page says while a current is on, or may be.
    app.state.current_on = meters.source.words
    app.state.practice = ports.practice

    def end() -> None:
        runs.stop()
        meters.close()

    app.state.at_end.append(end)


def meters_of(request: Request) -> BenchMeters:
    """The instruments of this bench."""
    return cast(BenchMeters, request.app.state.meters)


def runs_of(request: Request) -> Runs:
    """The readings by meter under way."""
    return cast(Runs, request.app.state.runs)
