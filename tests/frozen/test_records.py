"""Records as a released program left them: today's program opens them, says the same of them, and goes on writing.

Each layout has its file; `records/make.py` says how the newest was made.
"""

import json
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
from tests.frozen.records.make import told

from ohmsworth.adapters.records import open_store, restore_records
from ohmsworth.work.records import Face, NewLine

FOLDER = Path(__file__).parent / "records"
FILES = sorted(FOLDER.glob("records_*.sqlite"))


def test_there_is_one_of_each_layout() -> None:
    assert [file.name for file in FILES] == ["records_1.sqlite", "records_2.sqlite"]


@pytest.mark.parametrize("stored", FILES, ids=lambda file: file.stem)
@pytest.mark.parametrize("way", ["opened", "restored"])
def test_stored_records_say_what_they_said(stored: Path, way: str, tmp_path: Path) -> None:
    path = tmp_path / "records.sqlite"
    before = stored.read_bytes()
    if way == "opened":
        shutil.copyfile(stored, path)
    else:
        restore_records(stored, str(path))
    with open_store(str(path), clock=lambda: datetime(2026, 12, 1, tzinfo=UTC)) as store:
        before_told = json.loads(stored.with_suffix(".json").read_text(encoding="utf-8"))
        for card in before_told["cards"]:
            card["face"].setdefault("figures", {})  # layout 1 knew of none
        assert told(store) == before_told
        assert store.records.check() == ()
        (line,) = store.records.add(2, "Kim", [NewLine("new", "note written")], lambda _: Face("goes on"))
        assert line.number == 9
        assert store.records.check() == ()
    assert stored.read_bytes() == before
