"""What several stages ask of one table is found once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar
from weakref import WeakKeyDictionary

Asked = TypeVar("Asked")
T = TypeVar("T")


def once_each(work: Callable[[Asked], T]) -> Callable[[Asked], T]:
    """`work`, asked once of each thing, which never changes; what was found is let go with the thing it was found of.

    Nobody may write into what is returned.
    """
    known: WeakKeyDictionary[Asked, T] = WeakKeyDictionary()

    @wraps(work)
    def ask(asked: Asked) -> T:
        if asked not in known:
            known[asked] = work(asked)
        return known[asked]

    return ask
