"""Directives that take text from the program, so that the manual cannot differ from it."""

from __future__ import annotations

import dataclasses
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from docutils import nodes
from sphinx.application import Sphinx
from sphinx.util.docutils import SphinxDirective

from ohmsworth import wiring
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.report import answer as answer_records
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.sources import SOURCES
from ohmsworth.units import EXAMPLES, UNITS, show_stated
from ohmsworth.work.answer_study import answer_study

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


def settings_table() -> str:
    """Every setting of every kind, each once, as a list table."""
    kinds = {kind: {s.key: s for s in settings_of(kind)} for kind in USE_KINDS}
    keys = list(dict.fromkeys(key for settings in kinds.values() for key in settings))
    rows = [["key", "meaning", *(f"default, {kind}" for kind in kinds), "accepted"]]
    for key in keys:
        one = next(settings[key] for settings in kinds.values() if key in settings)
        defaults = [
            f"``{written(settings[key].default, one.dimension)}``" if key in settings else "–"
            for settings in kinds.values()
        ]
        named = {settings[key].source for settings in kinds.values() if key in settings} - {"practice"}
        told = ", ".join([one.symbol, *sorted(named)])
        rows.append([f"``{key}``", f"{one.words} ({told})", *defaults, _range(one)])
    lines = [".. list-table::", "   :header-rows: 1", ""]
    for row in rows:
        lines += [f"   {'* -' if i == 0 else '  -'} {cell}" for i, cell in enumerate(row)]
    return "\n".join(lines)


class UseSettings(SphinxDirective):
    """The table of settings of every kind of use."""

    def run(self) -> list[nodes.Node]:
        from docutils.core import publish_doctree

        return [*publish_doctree(settings_table()).children]


class Sources(SphinxDirective):
    """The bibliography."""

    def run(self) -> list[nodes.Node]:
        from docutils.core import publish_doctree

        lines = [".. list-table::", "   :header-rows: 1", ""]
        for key, citation, standing in [
            ("key", "source", "standing"),
            *((s.key, s.citation, s.standing) for s in SOURCES.values()),
        ]:
            lines += [f"   * - {key}", f"     - {citation}", f"     - {standing}"]
        return [*publish_doctree("\n".join(lines)).children]


def _demo_answer() -> Answer:
    with tempfile.TemporaryDirectory() as folder:
        study = Path(folder) / "study"
        wiring.write_demo_study(study)
        return answer_study(wiring.load_study(study))


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return float(f"{value:.4g}")
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list) else value


class AnswerExcerpt(SphinxDirective):
    """Some keys of the demo's answer."""

    def run(self) -> list[nodes.Node]:
        whole = _rounded(as_json(_demo_answer()))
        shown = {key: whole[key] for key in ("format", "question", "sentence", "limit", "margin")}
        for key in ("comparisons", "conditions", "warnings"):
            shown[key] = whole[key][:1]
        text = json.dumps(shown, ensure_ascii=False, indent=1)
        block = nodes.literal_block(text, text, language="json")
        return [block]


class AnswerKeys(SphinxDirective):
    """The records of the answer with their keys, as their docstrings tell them."""

    def run(self) -> list[nodes.Node]:
        records = [
            record
            for record in vars(answer_records).values()
            if isinstance(record, type) and dataclasses.is_dataclass(record)
        ]
        items = []
        for record in [Answer, *(r for r in records if r is not Answer)]:
            names = ", ".join(field.name for field in dataclasses.fields(record))
            words = " ".join((record.__doc__ or "").split())
            text = f"{record.__name__.removesuffix('Answer') or 'The answer'}: {words} Keys: {names}."
            items.append(nodes.list_item("", nodes.paragraph(text, text)))
        return [nodes.bullet_list("", *items)]


class CommandHelp(SphinxDirective):
    """What a command prints when asked for help."""

    required_arguments = 0
    optional_arguments = 1

    def run(self) -> list[nodes.Node]:
        command = [sys.executable, "-m", "ohmsworth", *self.arguments, "--help"]
        ran = subprocess.run(  # noqa: S603 - our own program, with words from the manual
            command,
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=True,
            env={**os.environ, "COLUMNS": "100", "PYTHONIOENCODING": "utf-8", "NO_COLOR": "1"},
        )
        return [nodes.literal_block(ran.stdout, ran.stdout, language="text")]


def setup(app: Sphinx) -> dict[str, bool]:
    """Register the directives."""
    app.add_directive("use-settings", UseSettings)
    app.add_directive("sources", Sources)
    app.add_directive("answer-excerpt", AnswerExcerpt)
    app.add_directive("answer-keys", AnswerKeys)
    app.add_directive("command-help", CommandHelp)
    return {"parallel_read_safe": True}
