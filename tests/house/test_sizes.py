"""Files and functions stay short enough to be read in one go."""

import ast
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src"
LONGEST_FILE = 500
LONGEST_FUNCTION = 60


def long_functions(source: str) -> list[str]:
    """Return the functions that are too long, each with its number of lines, docstring included."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            if lines > LONGEST_FUNCTION:
                found.append(f"{node.name}: {lines} lines")
    return found


def test_no_file_is_too_long() -> None:
    sizes = {
        f.relative_to(SOURCE): len(f.read_text(encoding="utf-8").splitlines()) for f in SOURCE.rglob("*.py")
    }
    assert sizes
    assert not {str(name): size for name, size in sizes.items() if size > LONGEST_FILE}


def test_no_function_is_too_long() -> None:
    found = {
        str(f.relative_to(SOURCE)): long_functions(f.read_text(encoding="utf-8"))
        for f in SOURCE.rglob("*.py")
    }
    assert not {name: functions for name, functions in found.items() if functions}


def test_a_long_function_is_seen() -> None:
    assert not long_functions("def f():\n" + "    x = 1\n" * (LONGEST_FUNCTION - 1))
    assert long_functions("def f():\n" + "    x = 1\n" * LONGEST_FUNCTION) == ["f: 61 lines"]
