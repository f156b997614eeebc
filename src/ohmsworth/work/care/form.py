"""What a page asks about care for a specimen, and the folder that asks the same: care.toml with what the records hold."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from ohmsworth.advice.remedies import USUAL_NAMES
from ohmsworth.materials import PLATINGS
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.study import Bench
from ohmsworth.work.cards.specimen_history import Point
from ohmsworth.work.care_ports import HistoryRow, OutcomeRow

#: What uses up nothing: every shop can do it.
FREE = ("exercise", "wipe")
#: What is bought for it: left empty by a shop that cannot do it.
BOUGHT = tuple(name for name in USUAL_NAMES if name not in FREE)
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")


@dataclass(frozen=True, slots=True)
class CareForm:
    """The fields as they were typed; `materials` and `after` by remedy.

    `before` names the condition that contacts were in before they were treated, and `after` the one after each remedy.
    """

    limit: str = ""
    limit_source: str = ""
    currency: str = ""
    labour: str = ""
    failure: str = ""
    retest: str = ""
    materials: Mapping[str, str] = field(default_factory=dict)
    maker: str = ""
    maker_words: str = ""
    forbids: tuple[str, ...] = ()
    environment: str = ""
    clean_since: str = ""
    uncertainty: str = ""
    before: str = ""
    after: Mapping[str, str] = field(default_factory=dict)

    @property
    def treated(self) -> dict[str, str]:
        """What was done, by the condition that it left."""
        return {condition: name for name, condition in self.after.items() if condition}


@dataclass(frozen=True, slots=True)
class KeptReadings:
    """The bytes of a readings.csv, its lines that their owner keeps in spite of a warning, and the meters they were read with."""

    content: bytes
    keep: tuple[int, ...]
    bench: Bench


@dataclass(frozen=True, slots=True)
class KeptOfSpecimen:
    """What the records hold of a specimen: as found last, over the years, its plating; and outcomes of others like it.

    `read` are the readings behind `found` as a study's folder has them, None where they cannot stand in one file.
    """

    title: str
    plating: str
    found: tuple[Point, ...]
    history: tuple[HistoryRow, ...]
    outcomes: tuple[OutcomeRow, ...]
    read: KeptReadings | None = None


def care_files(form: CareForm, kept: KeptOfSpecimen) -> dict[str, bytes]:
    """The folder that asks: as the command line would be asked."""
    files = {"care.toml": _toml(form, kept)}
    if not form.uncertainty and kept.read is None:
        files["readings.csv"] = _csv(
            ("specimen", "contact", "mating", "resistance [Ω]"),
            [
                (kept.title, p.contact or "1", p.mating or str(k), _ohm(p.resistance))
                for k, p in enumerate(kept.found)
            ],
        )
    if kept.outcomes:
        files["outcomes.csv"] = _csv(
            ("remedy", "specimen", "job", "before [Ω]", "after [Ω]"),
            [(o.remedy, o.specimen, o.job, _ohm(o.before), _ohm(o.after)) for o in kept.outcomes],
        )
    if kept.history:
        files["history.csv"] = _csv(
            ("date", "resistance [Ω]", "treated"),
            [(h.day.isoformat(), _ohm(h.resistance), h.treated) for h in kept.history],
        )
    made = {name: text.encode("utf-8", "replace") for name, text in files.items()}
    return made if form.uncertainty or kept.read is None else made | {"readings.csv": kept.read.content}


def _ohm(value: float) -> str:
    return f"{value:.12g}"


def _csv(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return out.getvalue()


def _toml(form: CareForm, kept: KeptOfSpecimen) -> str:
    can = [*FREE, *(name for name in BOUGHT if form.materials.get(name))]
    read = None if form.uncertainty else kept.read
    lines = [f"subject = {_text(kept.title)}", *_line("currency", form.currency)]
    lines += [f"keep = [{', '.join(map(str, read.keep))}]"] if read is not None and read.keep else []
    lines += ["", "[contact]"]
    lines.append(f"found_on = {_found_on(kept).isoformat()}")
    if form.uncertainty:
        worst = max(point.resistance for point in kept.found)
        lines += [f'resistance = "{worst:.6g} Ω"', f"uncertainty = {_text(form.uncertainty)}"]
    lines += ["", "[limit]", *_line("resistance", form.limit), *_line("source", form.limit_source)]
    if form.maker or form.maker_words or form.forbids:
        words = [line.strip() for line in form.maker_words.splitlines() if line.strip()]
        lines += ["", "[maker_says]", *_line("who", form.maker)]
        lines += [
            f"words = [{', '.join(map(_text, words))}]",
            f"forbids = [{', '.join(map(_text, form.forbids))}]",
        ]
    lines += ["", "[prices]", *_number("labour", form.labour), *_number("failure", form.failure)]
    lines += [
        *_line("retest", form.retest),
        f"can = [{', '.join(map(_text, can))}]",
        "",
        "[prices.materials]",
    ]
    lines += [line for name in BOUGHT for line in _number(name, form.materials.get(name, ""))]
    if kept.plating in PLATINGS:
        lines += ["", "[plating]", f"metal = {_text(kept.plating)}"]
    if form.environment:
        lines += [
            "",
            "[storage]",
            f"environment = {_text(form.environment)}",
            *_line("clean_since", form.clean_since),
        ]
    lines += [] if read is None else _bench(read.bench)
    return "\n".join(lines) + "\n"


def _bench(bench: Bench) -> list[str]:
    """The meters as a study states them; nothing where it states none."""
    if bench == Bench():
        return []
    lines = ["", "[bench]", f'emf_allowance = "{bench.emf_allowance:.12g} V"']
    if bench.open_circuit_voltage is not None:
        lines.append(f'open_circuit_voltage = "{bench.open_circuit_voltage:.12g} V"')
    meters = (
        ("voltmeter", bench.voltmeter, "V"),
        ("ammeter", bench.ammeter, "A"),
        ("ohmmeter", bench.ohmmeter, "Ω"),
    )
    for name, meter, unit in meters:
        if meter is not None:
            lines += ["", f"[bench.{name}]", *_meter(meter, unit)]
    return lines


def _meter(meter: Accuracy, unit: str) -> list[str]:
    numbers = (("percent_of_reading", 100 * meter.gain), ("counts", meter.counts))
    figures = (("resolution", meter.resolution), ("standard_uncertainty", meter.standard))
    return [
        *(f"{key} = {value:.12g}" for key, value in numbers if value),
        *(f'{key} = "{value:.12g} {unit}"' for key, value in figures if value),
    ]


def _found_on(kept: KeptOfSpecimen) -> date:
    return max(point.at for point in kept.found).date()


def _text(value: str) -> str:
    """A text as TOML writes it, which is as JSON does."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", " ")


def _line(key: str, value: str) -> list[str]:
    return [f"{key} = {_text(value)}"] if value else []


def _number(key: str, value: str) -> list[str]:
    """An amount as typed, with either decimal mark; what is none stays a text, so that its fault is told."""
    if not value:
        return []
    return [f"{key} = {value.replace(',', '.') if _NUMBER.fullmatch(value) else _text(value)}"]
