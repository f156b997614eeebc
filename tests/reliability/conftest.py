"""One program that forks servers for all of these tests, and a PostgreSQL server that may be stopped."""

from collections.abc import Iterator

import pytest
from tests.adapters.records import servers
from tests.reliability.nursery import Nursery, nursery


@pytest.fixture(scope="session")
def servers_of() -> Iterator[Nursery]:
    with nursery() as started:
        yield started


@pytest.fixture
def children(servers_of: Nursery) -> Iterator[Nursery]:
    """What serves; no server outlives its test."""
    yield servers_of
    for server in [*servers_of.servers]:
        server.kill()


@pytest.fixture(scope="session")
def postgres() -> Iterator[servers.Server]:
    with servers.server() as running:
        yield running
