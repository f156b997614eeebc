"""A clock that tests turn by hand."""

from datetime import UTC, datetime, timedelta


class Clock:
    def __init__(self) -> None:
        self.now = datetime(2026, 11, 26, 8, 0, 0, 123456, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def step(self, seconds: float) -> None:
        self.now += timedelta(seconds=seconds)
