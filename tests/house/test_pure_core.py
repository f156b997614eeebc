"""The stages below the report compute: they import, read and decide nothing from outside."""

import ast
import tomllib
from pathlib import Path

import grimp
import pytest

ROOT = Path(__file__).parents[2]
CONTRACTS = {
    contract["id"]: contract
    for contract in tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
        "importlinter"
    ]["contracts"]
}

STANDARD = {
    "__future__", "abc", "bisect", "cmath", "collections", "copy", "dataclasses", "datetime", "decimal",
    "difflib", "enum", "fractions", "functools", "heapq", "itertools", "math", "numbers", "operator", "re",
    "statistics", "string", "textwrap", "types", "typing", "unicodedata", "warnings", "weakref",
}  # fmt: skip
THIRD_PARTY = {"numpy", "scipy"}
ALSO = {"resistance": {"GTC"}}

BUILTINS = {"open", "print", "input", "eval", "exec", "__import__"}
CLOCKS = {"now", "utcnow", "today"}
NUMPY_FILES = {
    "load",
    "loadtxt",
    "genfromtxt",
    "fromfile",
    "memmap",
    "save",
    "savez",
    "savez_compressed",
    "savetxt",
}


def core() -> list[str]:
    """Return the names of the stages below the report that exist."""
    layers = CONTRACTS["layers"]["layers"]
    below = layers[layers.index("report") + 1 :]
    names = [name.strip(" ()") for layer in below for name in layer.split("|")]
    package = ROOT / "src/ohmsworth"
    return [
        name
        for name in names
        if (package / name / "__init__.py").is_file() or (package / f"{name}.py").is_file()
    ]


def files(stage: str) -> list[Path]:
    """Return the Python files of a stage."""
    return sorted(p for p in (ROOT / "src/ohmsworth").rglob("*.py") if stage in (p.stem, *p.parts))


def outside_calls(source: str) -> list[str]:
    """Return the calls in a module that reach out of the core, each with its line."""
    found = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Call(func=ast.Name(id=name)) if name in BUILTINS:
                found.append(f"line {node.lineno}: {name}")
            case ast.Attribute(attr=name) if name in CLOCKS:
                found.append(f"line {node.lineno}: .{name}")
            case ast.Attribute(value=ast.Name(id="np"), attr=name) if name in NUMPY_FILES:
                found.append(f"line {node.lineno}: np.{name}")
            case ast.Call(func=ast.Attribute(attr="default_rng"), args=[], keywords=[]):
                found.append(f"line {node.lineno}: default_rng without a seed")
    return found


def test_the_linter_holds_every_stage_of_the_core() -> None:
    assert set(CONTRACTS["pure-core"]["source_modules"]) == {f"ohmsworth.{name}" for name in core()}


@pytest.mark.parametrize("stage", core())
def test_the_core_imports_only_what_computes(stage: str) -> None:
    graph = grimp.build_graph("ohmsworth", include_external_packages=True, cache_dir=None)
    package = f"ohmsworth.{stage}"
    modules = {package, *graph.find_descendants(package)}
    imported = {name for module in modules for name in graph.find_modules_directly_imported_by(module)}
    outside = {name for name in imported if name.partition(".")[0] != "ohmsworth"}
    assert outside <= STANDARD | THIRD_PARTY | ALSO.get(stage, set())


@pytest.mark.parametrize("stage", core())
def test_the_core_calls_nothing_outside(stage: str) -> None:
    found = {file.name: outside_calls(file.read_text(encoding="utf-8")) for file in files(stage)}
    assert found
    assert not {name: calls for name, calls in found.items() if calls}


@pytest.mark.parametrize(
    "line",
    [
        "open('a')",
        "print(1)",
        "datetime.now(UTC)",
        "date.today()",
        "np.loadtxt('a')",
        "np.random.default_rng()",
    ],
)
def test_a_call_outside_is_seen(line: str) -> None:
    assert outside_calls(line)


def test_a_seeded_generator_and_a_load_in_a_circuit_are_not_outside() -> None:
    assert not outside_calls("np.random.default_rng(seed); circuit.load; numpy.sum(x)")
