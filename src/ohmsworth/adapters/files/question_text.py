"""A filled-in form to a study.toml with remarks, back, and changed in the file without touching the rest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, cast

from ohmsworth.adapters.files.form_fields import (
    LISTS,
    METERS,
    PLACES,
    Value,
    as_toml,
    is_said,
    setting_as_toml,
    told,
)
from ohmsworth.adapters.files.record_marks import parsed
from ohmsworth.adapters.files.toml_keys import put, put_table
from ohmsworth.work.study_form import MeterForm, StudyForm, UseForm

_REMARKS = {
    "question": "One question, its limit, its meters and its uses. Lines that begin with # are remarks.",
    "reference": "The condition that the others are compared against.",
    "scale": '"log": medians and ratios; "linear": means and differences.',
    "margin": "The smallest change that matters; left out, the uses below say it.",
    "limit": "Not to be exceeded, and who says so.",
    "bench": "The meters as their specifications state them: ± (per cent of reading + counts of the last digit).",
    "frequencies": "Where takes over frequency are asked about; the answer stands at the first.",
    "check_standard": "One stable low resistor, read again and again to see whether the bench is as it was.",
    "sheet": "What the bench sheet holds: of each condition so many specimens, each mated so many times.",
    "use": "A circuit in which the contacts are used.",
}


def write_question(form: StudyForm) -> str:
    """The text of study.toml for `form`."""
    said = {name: value for name, value in told(form).items() if is_said(name, value)}
    lines: list[str] = []
    table: tuple[str, ...] = ()
    for name, value in said.items():
        place = PLACES[name]
        if place[:-1] != table:
            table = place[:-1]
            lines += _heading(table, lines)
        elif not table and name in _REMARKS:
            lines += [*_gap(lines), f"# {_REMARKS[name]}"]
        lines.append(f"{place[-1]} = {_text(as_toml(name, value))}")
    for i, use in enumerate(form.uses):
        lines += _gap(lines)
        lines += [f"# {_REMARKS['use']}"] if i == 0 else []
        lines += ["[[use]]", *(f"{key} = {_text(value)}" for key, value in _use(use).items())]
    return "\n".join([*lines, ""])


def _gap(lines: list[str]) -> list[str]:
    return [""] if lines else []


def _heading(table: tuple[str, ...], lines: list[str]) -> Iterator[str]:
    yield from _gap(lines)
    first = not any(line.startswith(f"[{table[0]}") for line in lines)
    if first and table[0] in _REMARKS:
        yield f"# {_REMARKS[table[0]]}"
    yield f"[{'.'.join(table)}]"


def _text(value: object) -> str:
    import tomlkit

    return tomlkit.item(value).as_string()


def _use(use: UseForm) -> dict[str, object]:
    """The keys of a circuit that say something."""
    kind = use.kind.strip()
    said = {"kind": kind, "name": " ".join(use.name.split())}
    found: dict[str, object] = {key: text for key, text in said.items() if text or key == "kind"}
    for key, text in use.settings.items():
        if text.strip() and key not in said:
            found[key] = setting_as_toml(kind, key, text)
    return found


def form_of(toml: str) -> StudyForm:
    """What `toml` says of the fields of the form; blank where it says nothing, or cannot be read."""
    table = parsed(toml) or {}
    plan = _inside(table, ("plan",))
    said: dict[str, Any] = {name: _typed(_at(table, place)) for name, place in PLACES.items()}
    said |= {name: _names(_at(table, PLACES[name])) for name in LISTS}
    said["conditions"] = said["conditions"] or _names(plan.get("conditions"))
    said["assignment"] = said["assignment"] or _typed(plan.get("assignment"))
    said["check_name"] = said["check_name"] or _typed(plan.get("check_standard"))
    said["reversal"] = _at(table, PLACES["reversal"]) is not False
    for meter in METERS:
        accuracy, resolution, note = (
            said.pop(f"{meter}.{key}") for key in ("accuracy", "resolution", "note")
        )
        said[meter] = MeterForm(accuracy or _stated(_inside(table, ("bench", meter))), resolution, note)
    return StudyForm(**said, uses=tuple(_use_form(one) for one in _uses(table)))


def _stated(meter: Mapping[str, Any]) -> str:
    """A meter's accuracy in one text, where study.toml gives it as numbers."""
    percent, counts = meter.get("percent_of_reading"), meter.get("counts")
    if percent is None and counts is None:
        return ""
    return f"{_typed(percent) or '0'} %" + (f" + {_typed(counts)} counts" if counts is not None else "")


def _use_form(use: Mapping[str, Any]) -> UseForm:
    rest = {key: _typed(value) for key, value in use.items() if key not in ("kind", "name")}
    return UseForm(_typed(use.get("kind")), _typed(use.get("name")), rest)


def _uses(table: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    uses = table.get("use")
    return [one for one in uses if isinstance(one, dict)] if isinstance(uses, list) else []


def _inside(table: Mapping[str, Any], path: tuple[str, ...]) -> Mapping[str, Any]:
    found = _at(table, path)
    return found if isinstance(found, dict) else {}


def _at(table: Mapping[str, Any], path: tuple[str, ...]) -> Any:
    found: Any = table
    for key in path:
        found = found.get(key) if isinstance(found, dict) else None
    return found


def _typed(value: Any) -> str:
    """A value as somebody would type it."""
    if isinstance(value, list):
        return ", ".join(_typed(one) for one in value)
    if value is None or isinstance(value, dict):
        return ""
    return " ".join(str(value).split())


def _names(value: Any) -> tuple[str, ...]:
    listed = value if isinstance(value, list) else [value]
    return tuple(name for one in listed if (name := _typed(one)))


def revise(toml: str, form: StudyForm) -> str:
    """`toml` with what `form` says otherwise changed, and every other key and remark as it was.

    A text that is no TOML is written anew.
    """
    if parsed(toml) is None:
        return write_question(form)
    old = form_of(toml)
    import tomlkit

    document = tomlkit.parse(toml)
    before, after = told(old), told(form)
    for name, value in after.items():
        if value != before[name]:
            _change(document, name, value)
    if [_use(one) for one in form.uses] != [_use(one) for one in old.uses]:
        _change_uses(document, form.uses)
    return tomlkit.dumps(document)


def _change(document: Any, name: str, value: Value) -> None:
    """Write, or take out, what one field says."""
    place = PLACES[name]
    if name.endswith(".accuracy"):
        for key in ("percent_of_reading", "counts", "standard_uncertainty"):
            _remove(document, (*place[:-1], key))
    also = {"conditions": "conditions", "assignment": "assignment", "check_name": "check_standard"}.get(name)
    if also and also in _inside(document, ("plan",)):  # an older way of saying it
        if is_said(name, value) and also != "check_standard":
            document["plan"][also] = as_toml(name, value)
        else:
            _remove(document, ("plan", also))
    if not is_said(name, value):
        _remove(document, place)
        return
    import tomlkit

    table = document
    for key in place[:-2]:
        if not isinstance(table.get(key), dict):
            table[key] = tomlkit.table(is_super_table=True)
        table = table[key]
    inner = place[-2:-1]
    if inner and not isinstance(table.get(inner[0]), dict):
        put_table(table, inner[0], place[-1], as_toml(name, value))
    else:
        put(table[inner[0]] if inner else table, place[-1], as_toml(name, value))


def _remove(document: Any, place: tuple[str, ...]) -> None:
    """Take a key out, and the tables that are then empty."""
    table = _at(document, place[:-1]) if place[:-1] else document
    if isinstance(table, dict) and place[-1] in table:
        table.pop(place[-1])
        if place[:-1] and not table:
            _remove(document, place[:-1])


def _change_uses(document: Any, uses: tuple[UseForm, ...]) -> None:
    """Circuits by kind and name: those that are there already keep their remarks and what the form does not change."""
    import tomlkit

    there = cast("list[Any]", _uses(document))
    document.pop("use", None)
    tables = tomlkit.aot()
    for use in uses:
        keys = _use(use)
        same = [t for t in there if (t.get("kind"), t.get("name")) == (keys["kind"], keys.get("name"))]
        table = same[0] if same else tomlkit.table()
        if same:
            there = [one for one in there if one is not table]
        for key in [key for key in table if key not in keys]:
            table.pop(key)
        for key, value in keys.items():
            if _typed(table.get(key)) != _typed(value):
                table[key] = value
        tables.append(table)
    if uses:
        document["use"] = tables
