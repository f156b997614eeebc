"""The one table of who may do what: by the beginning of the path, for looking and for changing.

A page that no line covers is for the office alone; a test walks all pages and asks that each is covered.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ohmsworth.work.accounts import Role

#: "anybody" has not signed in.
Needed = Literal["anybody", "reader", "bench", "office"]
_RANK: dict[str, int] = {"anybody": 0, "reader": 1, "bench": 2, "office": 3}
LOOKING = ("GET", "HEAD", "OPTIONS")


@dataclass(frozen=True, slots=True)
class Rule:
    """What it takes to look at pages whose path begins with `path`, and to change something there."""

    path: str
    looking: Needed
    changing: Needed


RULES = (
    Rule("/static", "anybody", "office"),
    Rule("/health", "anybody", "office"),
    Rule("/sign-in", "anybody", "anybody"),
    Rule("/sign-out", "reader", "reader"),
    Rule("/me", "reader", "reader"),
    Rule("/who", "reader", "reader"),
    Rule("/screen", "reader", "reader"),
    Rule("/", "reader", "bench"),
    Rule("/studies", "reader", "bench"),
    Rule("/cables", "reader", "bench"),
    # Nothing is kept of a paper that is looked at.
    Rule("/cables/verify", "reader", "reader"),
    # What the shop asks for its work is for the office to say.
    Rule("/cables/prices", "reader", "office"),
    Rule("/specimens", "reader", "bench"),
    Rule("/cards", "reader", "bench"),
    Rule("/check-standards", "reader", "bench"),
    Rule("/limits", "reader", "bench"),
    Rule("/people", "reader", "bench"),
    Rule("/customers", "reader", "bench"),
    Rule("/jobs", "reader", "bench"),
    Rule("/shop", "reader", "bench"),
    Rule("/search", "reader", "reader"),
    Rule("/circuits", "reader", "reader"),
    Rule("/fitness", "reader", "bench"),
    Rule("/meters", "reader", "bench"),
    # To which addresses the server opens lines is for the office to say.
    Rule("/meters/live", "reader", "office"),
    Rule("/meters/off", "reader", "reader"),
    Rule("/records", "reader", "bench"),
    Rule("/records/restore", "office", "office"),
    Rule("/records/backup", "office", "office"),
    Rule("/records/export", "office", "office"),
    Rule("/settings", "reader", "office"),
    Rule("/accounts", "office", "office"),
    Rule("/programs", "office", "office"),
    Rule("/api", "reader", "bench"),
    # Nothing is kept of an order that is asked about.
    Rule("/api/cables/order", "reader", "reader"),
    Rule("/api/cables/prices", "reader", "office"),
    # Nor of a paper that is looked at.
    Rule("/api/papers/verify", "reader", "reader"),
    Rule("/api/settings", "reader", "office"),
    Rule("/api/backup", "office", "office"),
    Rule("/api/restore", "office", "office"),
)
_BY_PATH = {rule.path: rule for rule in RULES}


def rule_for(path: str) -> Rule | None:
    """The line with the longest beginning of `path`, by whole segments; "/" covers itself alone."""
    if path == "/":
        return _BY_PATH["/"]
    parts = path.split("/")
    for count in range(len(parts), 1, -1):
        rule = _BY_PATH.get("/".join(parts[:count]))
        if rule is not None and rule.path != "/":
            return rule
    return None


def needed(method: str, path: str) -> Needed:
    """What a request takes."""
    rule = rule_for(path)
    if rule is None:
        return "office"
    return rule.looking if method in LOOKING else rule.changing


def may(role: Role | None, what: Needed) -> bool:
    """Whether somebody of that role, or nobody who has signed in, may."""
    return _RANK[role or "anybody"] >= _RANK[what]
