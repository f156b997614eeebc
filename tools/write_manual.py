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

from tools.manual_cables import CABLE_PARTS
from tools.manual_physics import PHYSICS_PARTS
from tools.manual_words import ROOT, table, written

from ohmsworth import wiring
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.report import answer as answer_records
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.sources import SOURCES
from ohmsworth.work.answer_study import answer_study

PAGES = ROOT / "docs"
PART = re.compile(
    r"(<!-- from the program: (?P<name>[a-z-]+(?: [a-z0-9_-]+)?) -->\n).*?(<!-- end -->)", re.DOTALL
)


def _range(setting: Setting) -> str:
    if setting.choices:
        return " or ".join(f'"{choice}"' for choice in setting.choices)
    if setting.dimension == "text":
        return "mm², AWG or strands"
    low, high = (written(v, setting.dimension).strip('"') for v in (setting.lowest, setting.highest))
    return f"{low} to {high}"


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
    return table(("key", "meaning", *(f"default, {kind}" for kind in kinds), "accepted"), rows)


def sources() -> str:
    """The bibliography."""
    return table(("key", "source", "standing"), [(s.key, s.citation, s.standing) for s in SOURCES.values()])


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


#: What the guide asks about: a lead between two pieces of equipment, at three resistances.
MEANING = ("meaning", "3mohm", "50mohm", "2ohm", "--use", "unbalanced line", "--set", "length=3 m")


def command_help(*names: str) -> str:
    """What a command prints when asked for help."""
    return _printed(*names, "--help")


def meaning_run() -> str:
    """What resistances mean in one circuit, as the terminal shows it."""
    return _printed(*MEANING)


def _printed(*arguments: str) -> str:
    ran = subprocess.run(
        [sys.executable, "-m", "ohmsworth", *arguments],
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


PARTS: dict[str, Callable[..., str]] = {
    "use-settings": use_settings,
    "sources": sources,
    "answer-excerpt": answer_excerpt,
    "answer-keys": answer_keys,
    "command-help": command_help,
    "meaning-run": meaning_run,
    "example": example,
    **CABLE_PARTS,
    **PHYSICS_PARTS,
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
