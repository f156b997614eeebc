"""Every test of the store runs on both systems, unless it is about one of them."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.adapters.records.servers import Server, server


@pytest.fixture(scope="session")
def postgres_server() -> Iterator[Server]:
    with server() as running:
        yield running


@pytest.fixture(params=["sqlite", "postgres"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where new records can be made."""
    if request.param == "sqlite":
        return str(tmp_path / "records.sqlite")
    running: Server = request.getfixturevalue("postgres_server")
    return running.fresh()
