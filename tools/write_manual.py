"""Write into the pages of docs/ what the program says of itself, so that the files are complete as they stand.

A page names each such part between two comments: ``<!-- from the program: NAME -->`` and ``<!-- end -->``.
"""

import dataclasses
import json
import math
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from ohmsworth import materials as m
from ohmsworth import wiring
from ohmsworth.advice import cautions
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.materials.hardness import PASCAL_OF_NUMBER
from ohmsworth.report import answer as answer_records
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.sources import SOURCES
from ohmsworth.units import EXAMPLES, UNITS, show, show_interval, show_stated
from ohmsworth.work.answer_study import answer_study

ROOT = Path(__file__).parents[1]
PAGES = ROOT / "docs"
PART = re.compile(
    r"(<!-- from the program: (?P<name>[a-z-]+(?: [a-z0-9_-]+)?) -->\n).*?(<!-- end -->)", re.DOTALL
)
_PLAIN = {
    "resistance": "Ω",
    "length": "m",
    "frequency": "Hz",
    "current": "A",
    "voltage": "V",
    "level difference": "dB",
}


def written(value: float | str, dimension: str) -> str:
    """A setting's SI value as one writes it in study.toml."""
    if isinstance(value, str):
        return f'"{value}"'
    if dimension == "number":
        return f"{value:g}"
    if dimension == "temperature":
        return f'"{value - 273.15:g} °C"'
    if dimension in _PLAIN:
        return f'"{show_stated(value, _PLAIN[dimension])}"'
    unit = EXAMPLES[dimension].split(" ", 1)[1]
    return f'"{value / UNITS[unit].factor:.6g} {unit}"'


def _range(setting: Setting) -> str:
    if setting.choices:
        return " or ".join(f'"{choice}"' for choice in setting.choices)
    if setting.dimension == "text":
        return "mm² or AWG"
    low, high = (written(v, setting.dimension).strip('"') for v in (setting.lowest, setting.highest))
    return f"{low} to {high}"


def _table(header: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    escaped = [tuple(cell.replace("|", "\\|") for cell in row) for row in (header, *rows)]
    lines = ["| " + " | ".join(row) + " |" for row in escaped]
    return "\n".join([lines[0], "|" + "---|" * len(header), *lines[1:]])


def use_settings() -> str:
    """Every setting of every kind of use, each once."""
    kinds = {kind: {s.key: s for s in settings_of(kind)} for kind in USE_KINDS}
    keys = list(dict.fromkeys(key for settings in kinds.values() for key in settings))
    rows = []
    for key in keys:
        one = next(settings[key] for settings in kinds.values() if key in settings)
        defaults = [
            f"`{written(settings[key].default, one.dimension)}`" if key in settings else "–"
            for settings in kinds.values()
        ]
        named = {settings[key].source for settings in kinds.values() if key in settings} - {"practice"}
        told = ", ".join([one.symbol, *sorted(named)])
        rows.append((f"`{key}`", f"{one.words} ({told})", *defaults, _range(one)))
    return _table(("key", "meaning", *(f"default, {kind}" for kind in kinds), "accepted"), rows)


def sources() -> str:
    """The bibliography."""
    return _table(("key", "source", "standing"), [(s.key, s.citation, s.standing) for s in SOURCES.values()])


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return float(f"{value:.4g}")
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list) else value


def answer_excerpt() -> str:
    """Some keys of the demo's answer."""
    with tempfile.TemporaryDirectory() as folder:
        study = Path(folder) / "study"
        wiring.write_demo_study(study)
        whole = _rounded(as_json(answer_study(wiring.load_study(study))))
    shown = {key: whole[key] for key in ("format", "question", "sentence", "limit", "margin")}
    for key in ("comparisons", "conditions", "warnings"):
        shown[key] = whole[key][:1]
    return f"```json\n{json.dumps(shown, ensure_ascii=False, indent=1)}\n```"


def answer_keys() -> str:
    """The records of the answer with their keys, as their docstrings tell them."""
    records = [
        r for r in vars(answer_records).values() if isinstance(r, type) and dataclasses.is_dataclass(r)
    ]
    lines = []
    for record in [Answer, *(r for r in records if r is not Answer)]:
        keys = ", ".join(f"`{field.name}`" for field in dataclasses.fields(record))
        words = " ".join((record.__doc__ or "").replace("``", "`").split())
        lines.append(f"- {record.__name__.removesuffix('Answer') or 'The answer'}: {words} Keys: {keys}.")
    return "\n".join(lines)


def command_help(*names: str) -> str:
    """What a command prints when asked for help."""
    ran = subprocess.run(
        [sys.executable, "-m", "ohmsworth", *names, "--help"],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
        env={**os.environ, "COLUMNS": "100", "PYTHONIOENCODING": "utf-8", "NO_COLOR": "1"},
    )
    lines = "\n".join(line.rstrip() for line in ran.stdout.strip("\n").splitlines())
    return f"```text\n{lines}\n```"


def example(name: str) -> str:
    """An example of the library and what it prints."""
    code, printed = ((ROOT / f"examples/{name}.{end}").read_text("utf-8").rstrip() for end in ("py", "txt"))
    return f"```python\n{code}\n```\n\nIt prints:\n\n```text\n{printed}\n```"


# ---------------------------------------------------------------- contact physics

_DAY = 86400.0
_TIMES = {
    "30 days": 30 * _DAY,
    "6 months": 182.6 * _DAY,
    "1 year": 365.25 * _DAY,
    "5 years": 5 * 365.25 * _DAY,
}
_TRACK = {"force": 1.0, "path": 6e-3, "area": 3e-7}
_WORN = (
    ("gold", 0.25e-6),
    ("gold", 0.76e-6),
    ("gold", 1.27e-6),
    ("silver", 3e-6),
    ("tin", 5e-6),
    ("nickel", 3e-6),
)
#: Ratio to the signal below which no figure helps: far beneath any noise.
_NOTHING = 1e-8
# What, volts at the peak of the signal, ohm of the loop, ohm of film.
_LOOPS = (
    ("microphone", 10e-3, 1650.0, 1.0),
    ("line at +4 dBu", 1.737, 1e4, 3e-3),
    ("line at +4 dBu", 1.737, 1e4, 1.0),
    ("headphone", 0.5, 32.0, 1.0),
    ("loudspeaker", 10.0, 8.0, 3e-3),
    ("loudspeaker", 10.0, 8.0, 0.1),
)


def _plain(span: m.Span | None, factor: float = 1.0) -> str:
    if span is None:
        return "–"
    low, high = (f"{end / factor:.3g}" for end in (span.low, span.high))
    return low if low == high else f"{low} to {high}"


def _shown(span: m.Span | None, unit: str) -> str:
    if span is None:
        return "not known"
    if span.low == span.high:
        return show(span.low, unit, 2)
    if span.low == 0 and math.isinf(span.high):
        return "no range known"
    return f"up to {show(span.high, unit, 2)}" if span.low == 0 else show_interval(span.low, span.high, unit)


def _cited(key: str) -> str:
    return f"{key}, from memory" if SOURCES[key].standing == "memory" else key


def _said(statements: tuple[m.Statement, ...]) -> str:
    return "\n".join(f"- {one.words} ({_cited(one.source)})" for one in statements)


def plating_ranges() -> str:
    """Numbers of every plating and base metal."""
    rows = [
        (
            name,
            _plain(facts.resistivity, 1e-8),
            _plain(m.HARDNESS[name].pressure, PASCAL_OF_NUMBER),
            _plain(facts.thickness, 1e-6),
            _plain(facts.force),
            _plain(m.ANODIC_INDEX[name]),
        )
        for name, facts in m.PLATING_FACTS.items()
    ]
    header = ("metal", "resistivity, 1e-8 Ω·m", "hardness, HV or HK", "usual thickness, µm", "usual force, N")
    return _table((*header, "anodic index, V"), rows)


def plating_facts() -> str:
    """What every plating and base metal is good and bad at."""
    parts = []
    for facts in m.PLATING_FACTS.values():
        groups = (("good", facts.good), ("bad", facts.bad), ("to know", facts.notes))
        rows = [(kind, one.topic, one.words, _cited(one.source)) for kind, group in groups for one in group]
        parts.append(f"### {facts.name.capitalize()}\n\n" + _table(("", "about", "what", "source"), rows))
    return "\n\n".join(parts)


def galvanic_pairs() -> str:
    """How the finishes get on with every metal."""
    finishes = [name for name, facts in m.PLATING_FACTS.items() if not facts.base]
    rows = [(other, *(_pair(m.pairing(name, other)) for name in finishes)) for other in m.ANODIC_INDEX]
    return _table(("against", *finishes), rows)


def _pair(found: m.Pairing) -> str:
    if found.difference.high == 0:
        return "alike"
    places = {0: "nowhere", 1: "dry rooms", 2: "indoors", 3: "anywhere"}[len(found.places)]
    return f"{_plain(found.difference)} V: {places}"


def clean_contacts() -> str:
    """Clean contacts against force."""
    forces = (0.3, 1.0, 3.0, 10.0)
    rows = [(name, *(_shown(m.clean_resistance(name, f), "Ω") for f in forces)) for name in m.PLATINGS]
    return _table(("both members", *(f"{force:g} N" for force in forces)), rows)


def spot_heat() -> str:
    """At which voltage and current spots soften and melt, and how hot they are below."""
    rows = []
    for name in m.PLATINGS:
        told = [m.spot_state(name, volts) for volts in (0.02, 0.05)]
        rise = [f"{state.temperature - 293.15:.0f} K" if state.temperature else "–" for state in told]
        melting = f"{told[0].melting.low:.2f} to {told[0].melting.high:.2f} V"
        current = show(told[0].softening / 3e-3, "A", 2)
        rows.append((name, show_stated(told[0].softening, "V"), melting, current, *rise))
    header = ("metal", "softens at", "melts at (table and formula)", "softens with 3 mΩ at")
    return _table((*header, "warmer by, at 20 mV", "at 50 mV"), rows)


def tarnish_growth() -> str:
    """Films by class of air and time."""
    rows = [
        (
            metal,
            f"{air.name} ({air.words})",
            *(_shown(m.tarnish(metal, air.name, t).thickness, "m") for t in _TIMES.values()),
        )
        for metal in ("silver", "copper")
        for air in m.ENVIRONMENTS.values()
    ]
    return _table(("bare metal", "air", *_TIMES), rows)


def tarnish_resistance() -> str:
    """What the films on silver add unwiped, at low force."""
    rows = [
        (
            f"{air.name} ({air.words})",
            *(_shown(m.tarnish("silver", air.name, t).unwiped, "Ω") for t in _TIMES.values()),
        )
        for air in m.ENVIRONMENTS.values()
    ]
    return _table(("air", *_TIMES), rows)


def tarnish_observed() -> str:
    """Films that were measured, beside what the classes give for them."""
    rows = []
    for one in m.OBSERVATIONS:
        ranges = [_shown(m.tarnish("silver", air, one.time).thickness, "m") for air in ("G1", "G2")]
        added = "not measured" if one.added is None else _shown(one.added, "Ω")
        rows.append(
            (
                one.words,
                f"{one.time / _DAY:.0f} days",
                show(one.thickness, "m", 2),
                *ranges,
                added,
                one.source,
            )
        )
    return _table(("where", "time", "measured", "range of G1", "range of G2", "adds", "source"), rows)


def film_breakdown() -> str:
    """Voltage at which films break down."""
    rows = []
    for thickness in (1e-9, 5e-9, 20e-9, 50e-9, 200e-9):
        film = m.fritting(thickness)
        rows.append(
            (show(thickness, "m", 2), _shown(film.voltage, "V"), "yes" if film.dry_is_below else "no")
        )
    return _table(("film", "breaks down at", "20 mV stay below"), rows)


def wear_lives() -> str:
    """Matings until a plating is through."""
    rows = [
        (f"{name}, {show(thickness, 'm', 2)}", *(_lives(name, thickness, way) for way in m.SLIDING))
        for name, thickness in _WORN
    ]
    force, half, width = _TRACK["force"], _TRACK["path"] / 2, _TRACK["area"] / (_TRACK["path"] / 2)
    told = (
        f"For a force of {show_stated(force, 'N')}, {show_stated(half, 'm')} in and as much out, on a track of that "
        f"length that is {show_stated(width, 'm')} wide:"
    )
    header = ("plating", *(f"{way.name}: {way.words}" for way in m.SLIDING.values()))
    return f"{told}\n\n{_table(header, rows)}"


def _lives(name: str, thickness: float, way: str) -> str:
    life = m.wear_life(name, thickness, sliding=way, **_TRACK).matings
    low, high = (f"{float(f'{end:.1g}'):,.0f}".replace(",", " ") for end in (life.low, life.high))
    return f"{low if life.low >= 1 else 'less than 1'} to {high}"


def film_distortions() -> str:
    """Third harmonic that films put on signals."""
    rows = []
    for words, volts, impedance, resistance in _LOOPS:
        found = m.film_distortion(resistance, volts / impedance, impedance)
        loop = (show_stated(resistance, "Ω"), f"{show(volts, 'V', 2)} in {show_stated(impedance, 'Ω')}")
        rows.append(
            (words, *loop, show(found.voltage, "V", 2), _decibels(found.signal), _decibel(found.ceiling))
        )
    told = f"With $V_0$ from {show_interval(m.FILM_VOLTAGE.low, m.FILM_VOLTAGE.high, 'V')} (source: film-memory):"
    header = ("what", "film", "peak, loop", "across the film", "third harmonic", "no distortion is more than")
    return f"{told}\n\n{_table(header, rows)}"


def _decibel(ratio: float) -> str:
    return f"{20 * math.log10(ratio):.0f} dB".replace("-", "−")


def _decibels(span: m.Span) -> str:
    if span.high < _NOTHING:
        return f"below {_decibel(_NOTHING)}"
    return (
        f"{_decibel(span.low).removesuffix(' dB')} to {_decibel(span.high)}"
        if span.low
        else f"at most {_decibel(span.high)}"
    )


def contact_facts(name: str) -> str:
    """Statements on one subject."""
    return _said({"tarnish": m.TARNISH_FACTS, "wear": m.WEAR_FACTS, "fritting": m.FRITTING_FACTS}[name])


def contact_cautions(name: str) -> str:
    """Cautions that belong to one kind of work on contacts."""
    if name == "heat":
        return f"- {cautions.HIGH_CURRENT}\n- {cautions.UNPOWERED}"
    safety = [
        f"- {facts.name.capitalize()}: {one.words[0].lower()}{one.words[1:]} ({_cited(one.source)})"
        for facts in m.PLATING_FACTS.values()
        for one in facts.notes
        if one.topic == "safety"
    ]
    return "\n".join([f"- {cautions.UNPOWERED}", f"- {cautions.CLEANER}", *safety])


PARTS: dict[str, Callable[..., str]] = {
    "use-settings": use_settings,
    "sources": sources,
    "answer-excerpt": answer_excerpt,
    "answer-keys": answer_keys,
    "command-help": command_help,
    "example": example,
    "plating-ranges": plating_ranges,
    "plating-facts": plating_facts,
    "galvanic-pairs": galvanic_pairs,
    "clean-contacts": clean_contacts,
    "spot-heat": spot_heat,
    "tarnish-growth": tarnish_growth,
    "tarnish-resistance": tarnish_resistance,
    "tarnish-observed": tarnish_observed,
    "film-breakdown": film_breakdown,
    "wear-lives": wear_lives,
    "film-distortions": film_distortions,
    "contact-facts": contact_facts,
    "contact-cautions": contact_cautions,
}


def filled(page: str) -> str:
    """`page` with every part as the program has it now."""

    def part(match: re.Match[str]) -> str:
        name, *arguments = match["name"].split()
        return f"{match[1]}\n{PARTS[name](*arguments)}\n\n{match[3]}"

    return PART.sub(part, page)


def main() -> None:
    """Write the parts of every page anew."""
    for path in sorted(PAGES.glob("*.md")):
        before = path.read_text("utf-8")
        after = filled(before)
        if after != before:
            path.write_text(after, "utf-8")
            print(f"Written: {path.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
