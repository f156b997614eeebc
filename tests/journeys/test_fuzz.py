"""Whatever a folder holds, it is answered or refused: never a fault of the program."""

from __future__ import annotations

import contextlib
import io
import json
import tempfile
from functools import cache
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from hypothesis import HealthCheck, currently_in_test_context, event, given, settings
from hypothesis import strategies as st
from tests.journeys.once_broken import ONCE_BROKEN
from tests.journeys.studies import Plan, plans, readings, studies

from ohmsworth.adapters.files.template import READINGS_TEMPLATE, STUDY_TEMPLATE
from ohmsworth.cli.app import run

STUDY, READINGS = STUDY_TEMPLATE.encode(), READINGS_TEMPLATE.encode()
#: What editing, pasting and transfer put into files, beside plain bytes.
PIECES = (b"", b"\0", b'"', b",", b";", b"\n", b"\r", b"\xff\xfe", b"\xef\xbb\xbf", b"\xb5", b"=", b"[", b"]",
          b"-", b"1e999", b"5e-324", b"nan", b"1,234", b"'''", b"\\", b"{", b"zero", b"\xe2\x88\x92", b"99999999")  # fmt: skip


@cache
def validator() -> jsonschema.Draft202012Validator:
    schema = files("ohmsworth.report").joinpath("answer.schema.json").read_text("utf-8")
    return jsonschema.Draft202012Validator(json.loads(schema))


@pytest.fixture(autouse=True)
def _faults_of_the_program_are_raised(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("OHMSWORTH_TRACE", "1")


def check(study: bytes, table: bytes, *reports: str) -> int:
    """Answer a folder of these two files; its exit code, once what was printed has been held to its format."""
    out, err = io.StringIO(), io.StringIO()
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "study.toml").write_bytes(study)
        (Path(folder) / "readings.csv").write_bytes(table)
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = run(["answer", folder, "--json", *(f"--{kind}={folder}/report" for kind in reports)])
        assert (Path(folder) / "report").exists() == (code == 0 and bool(reports))
    data = json.loads(out.getvalue(), parse_constant=lambda name: pytest.fail(f"{name} in JSON"))
    if currently_in_test_context():
        event(f"exit code {code}")
    if code == 0:
        validator().validate(data)
    else:
        assert code == 2, err.getvalue()
        assert data["format"] == "ohmsworth refusal 1"
        assert data["faults"]
        assert all(fault["where"] and fault["mend"] for fault in data["faults"])
        assert "Traceback" not in err.getvalue()
    return code


def mutated(original: bytes) -> st.SearchStrategy[bytes]:
    """`original` with up to three places cut, doubled or replaced."""
    place = st.integers(0, len(original))
    piece = st.one_of(st.sampled_from(PIECES), st.binary(max_size=3))
    return st.lists(st.tuples(place, st.integers(0, 12), piece), min_size=1, max_size=3).map(
        lambda edits: _edited(original, edits)
    )


def _edited(data: bytes, edits: list[tuple[int, int, bytes]]) -> bytes:
    for place, length, piece in edits:
        data = data[:place] + piece + data[place + length :]
    return data


FILES = settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])


@FILES
@given(st.binary(max_size=300), st.binary(max_size=300))
def test_random_bytes(study: bytes, table: bytes) -> None:
    assert check(study, table) == 2


@FILES
@given(st.one_of(st.just(READINGS), mutated(READINGS)), st.one_of(st.just(STUDY), mutated(STUDY)))
def test_files_with_slips(table: bytes, study: bytes) -> None:
    check(study, table)


@FILES
@given(st.text(max_size=200), st.text(max_size=200))
def test_random_text_below_a_header(cells: str, keys: str) -> None:
    heading = "specimen,condition,voltage [mV],current [mA]\n"
    check(keys.encode("utf-8", "replace"), (heading + cells).encode("utf-8", "replace"))


@settings(FILES, max_examples=200)
@given(studies(), plans())
def test_random_studies(study: str, plan: Plan) -> None:
    check(study.encode(), readings(plan).encode())


@settings(FILES, max_examples=25)
@given(studies(), plans())
def test_random_studies_are_drawn(study: str, plan: Plan) -> None:
    check(study.encode(), readings(plan).encode(), "html")


@pytest.mark.parametrize("name", ONCE_BROKEN)
def test_what_once_broke_is_answered(name: str) -> None:
    study, table = ONCE_BROKEN[name]
    assert check(study.encode(), table.encode()) == 0
