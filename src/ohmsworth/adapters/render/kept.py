"""A few things kept that took long to make, the last used ones."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Hashable
from typing import Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """At most `most` things by key; several threads may share it.

    Examples
    --------
    >>> kept: Kept[str] = Kept(2)
    >>> for key in ("a", "b", "c"):
    ...     kept.put(key, key.upper())
    >>> kept.get("a"), kept.get("c")
    (None, 'C')
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._things: OrderedDict[Hashable, T] = OrderedDict()
        self._turn = threading.Lock()

    def get(self, key: Hashable) -> T | None:
        """What is kept for `key`, or None."""
        with self._turn:
            thing = self._things.get(key)
            if thing is not None:
                self._things.move_to_end(key)
            return thing

    def put(self, key: Hashable, thing: T) -> None:
        """Keep `thing`, in the place of what was not asked for longest."""
        with self._turn:
            self._things[key] = thing
            self._things.move_to_end(key)
            while len(self._things) > self._most:
                self._things.popitem(last=False)

    def clear(self) -> None:
        """Keep nothing."""
        with self._turn:
            self._things.clear()
