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
class KeptOfSpecimen:
    """What the records hold of a specimen: as found last, over the years, its plating; and outcomes of others like it."""

    title: str
    plating: str
    found: tuple[Point, ...]
    history: tuple[HistoryRow, ...]
    outcomes: tuple[OutcomeRow, ...]


def care_files(form: CareForm, kept: KeptOfSpecimen) -> dict[str, bytes]:
    """The folder that asks: as the command line would be asked."""
    files = {"care.toml": _toml(form, kept)}
    if not form.uncertainty:
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
    return {name: text.encode("utf-8", "replace") for name, text in files.items()}


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
    lines = [f"subject = {_text(kept.title)}", *_line("currency", form.currency), "", "[contact]"]
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
    return "\n".join(lines) + "\n"


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
