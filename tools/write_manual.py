"""Write into the pages of docs/ what the program says of itself, so that the files are complete as they stand.

A page names each such part between two comments: ``<!-- from the program: NAME -->`` and ``<!-- end -->``.
"""

import dataclasses
import json
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from ohmsworth import wiring
from ohmsworth.adapters.files.cables import read_cables
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.materials import (
    CONSTRUCTIONS,
    ENTRIES,
    FAMILIES,
    Construction,
    Entry,
    characteristic_impedance,
    keys_of,
    measured_of_elements,
    stranded,
    two_wires,
    velocity_factor_of,
)
from ohmsworth.report import answer as answer_records
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.sources import SOURCES
from ohmsworth.units import EXAMPLES, UNITS, show, show_stated
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
    if dimension in ("number", "plain ratio"):
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
        return "mm², AWG or strands"
    low, high = (written(v, setting.dimension).strip('"') for v in (setting.lowest, setting.highest))
    return f"{low} to {high}"


def _table(header: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
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


def cables(family: str) -> str:
    """The library's cables of one family, with what a circuit takes of them."""
    return _cable_table([cable for cable in CONSTRUCTIONS if cable.family == family])


def _cable_table(listed: list[Construction]) -> str:
    header = (
        "cable",
        "what it is",
        "conductor",
        "capacitance",
        "inductance",
        "Z0",
        "velocity",
        "screen",
        "tan δ",
    )
    return _table(header, [_cable_row(cable) for cable in listed])


def _cable_row(cable: Construction) -> tuple[str, ...]:
    value = {key: number for key, number in cable.values.items() if isinstance(number, float)}
    if cable.family == "pair":
        between, rest = measured_of_elements(value["core_core"], value["core_screen"])
        told = f"{_pf(between)} core to core, {_pf(rest)} core to rest"
    else:
        between = value["capacitance"]
        told = _pf(between)
    screen = [show(value["screen_resistance"], "Ω/m")] if "screen_resistance" in value else []
    if "screen_diameter" in value:
        screen += [f"{value['screen_diameter'] * 1e3:.3g} mm inside"]
    return (
        f"`{cable.name}`",
        cable.words,
        str(cable.values["conductor"]),
        told,
        f"{value['inductance'] * 1e6:.3f} µH/m",
        f"{characteristic_impedance(value['inductance'], between):.0f} Ω",
        f"{velocity_factor_of(value['inductance'], between):.2f}",
        ", ".join(screen) or "–",
        f"{value['loss_tangent']:g}" if "loss_tangent" in value else "–",
    )


def _pf(capacitance: float) -> str:
    return f"{capacitance * 1e12:.0f} pF/m"


def cable_ways() -> str:
    """What each family of cables needs, and the ways to describe one."""
    lines = []
    for family in FAMILIES.values():
        always = _keys(family.needed)
        lines.append(f"- **{family.name}** ({family.words}): {always}, and one of")
        for way in family.ways:
            extra = f" (and if you like {_keys(way.optional)})" if way.optional else ""
            lines.append(f"  - {way.words}: {_keys(way.keys)}{extra}")
        lines.append(f"  - besides, where it is known: {_keys(family.optional)}")
    return "\n".join(lines)


def _keys(keys: tuple[str, ...]) -> str:
    return ", ".join(f"`{key}`" for key in keys)


def cable_entries() -> str:
    """Every entry of a cable, what it means and what is accepted."""
    rows = []
    for entry in ENTRIES.values():
        families = [family.name for family in FAMILIES.values() if entry.key in keys_of(family)]
        rows.append((f"`{entry.key}`", entry.words, _believed(entry), ", ".join(families)))
    return _table(("key", "meaning", "accepted", "families"), rows)


def _believed(entry: Entry) -> str:
    if entry.dimension == "text":
        return "mm², AWG or strands"
    low, high = (written(v, entry.dimension).strip('"') for v in (entry.lowest, entry.highest))
    return f"{low} or {high}" if entry.dimension == "number" else f"{low} to {high}"


def cable_example() -> str:
    """The shop's file of the examples, what comes of it, and its first cable reckoned by hand."""
    path = ROOT / "examples/cables.toml"
    found = list(read_cables(path))
    diameter = stranded(28, 0.1e-3).diameter or 0.0
    alone = two_wires(diameter, 1.4e-3, 2.0)
    screened = float(found[0].values["inductance"])
    steps = (
        f"By hand, for the first: 28 strands of 0.10 mm make a bundle of d = 0.10 mm × √(28/0.75) = {diameter * 1e3:.3f} mm. "
        f"Cores that touch lie s = 1.4 mm apart. Without a screen L = (µ0/π) arcosh(s/d) = 0.4 µH/m × "
        f"arcosh({1.4e-3 / diameter:.3f}) = {alone.inductance * 1e6:.3f} µH/m and C = πε/arcosh(s/d) = "
        f"{_pf(alone.capacitance)}. The screen at 3.0 mm pushes the field together: {screened * 1e6:.3f} µH/m, with the "
        "twist counted."
    )
    return (
        f"```toml\n{path.read_text('utf-8').rstrip()}\n```\n\nIt gives:\n\n{_cable_table(found)}\n\n{steps}"
    )


PARTS: dict[str, Callable[..., str]] = {
    "use-settings": use_settings,
    "sources": sources,
    "answer-excerpt": answer_excerpt,
    "answer-keys": answer_keys,
    "command-help": command_help,
    "example": example,
    "cables": cables,
    "cable-ways": cable_ways,
    "cable-entries": cable_entries,
    "cable-example": cable_example,
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
