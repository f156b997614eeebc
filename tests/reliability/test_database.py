"""The database restarts, or is away, while four people and programs send readings through two servers."""

from collections.abc import Iterator

import pytest
from tests.adapters.records import servers
from tests.reliability.kept import all_kept
from tests.reliability.nursery import Nursery
from tests.reliability.test_refused import kept_again, told
from tests.reliability.writers import confirmed, four_writers, new_study, writing

pytestmark = pytest.mark.slow


@pytest.fixture
def own() -> Iterator[servers.Server]:
    """A database server that may be stopped."""
    with servers.server() as running:
        yield running


@pytest.mark.parametrize("mode", ["fast", "immediate"])
def test_a_database_that_restarts_in_mid_stream(own: servers.Server, children: Nursery, mode: str) -> None:
    """Within the servers' patience nobody notices more than a wait."""
    address = own.fresh()
    one, other = (children.serve(address, patience=30) for _ in range(2))
    writers = four_writers(study := new_study(one.port))
    with writing(writers, [one.port, one.port, other.port, other.port]) as enough:
        for _ in range(2):
            until_each_has(writers, enough, 5)
            own.stop(mode)
            enough.wait(0.3)
            own.start()
        until_each_has(writers, enough, 5)
    assert [writer.told for writer in writers] == [[]] * 4
    all_kept(address, study, writers)


def until_each_has(writers, enough, more: int) -> None:  # type: ignore[no-untyped-def]
    before = [len(writer.confirmed) for writer in writers]
    for _ in range(1200):
        if all(len(writer.confirmed) >= n + more for writer, n in zip(writers, before, strict=True)):
            return
        enough.wait(0.05)
    raise AssertionError("nothing is confirmed any more")


def test_a_database_that_is_away_for_longer(own: servers.Server, children: Nursery) -> None:
    """It is said in words; what was refused is sent again when it is back, and nothing confirmed is lost."""
    address = own.fresh()
    server = children.serve(address, patience=0.5)
    writers = four_writers(study := new_study(server.port))
    with writing(writers, [server.port] * 4) as enough:
        until_each_has(writers, enough, 3)
        own.stop()
        try:
            while any(not writer.told for writer in writers):
                enough.wait(0.05)
            told(server.port, study, "cannot be reached", "See that the database runs")
        finally:
            own.start()
        until_each_has(writers, enough, 3)
    words = {answer.words for writer in writers for answer in writer.told}
    assert all("this was not kept" in said and "secret" not in said for said in words)
    kept_again(server.port, study)
    keys = all_kept(address, study, writers, unsure=2)
    assert len(keys) > len(confirmed(writers))
