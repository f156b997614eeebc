"""The groups of pages, in the order in which an address is looked for."""

from __future__ import annotations

from importlib import import_module
from typing import cast

from fastapi import APIRouter

#: Modules below this package, each with its `pages`; what is fixed comes before what holds a number.
PAGE_GROUPS = (
    "health",
    "door.sign_in_pages",
    "door.office_pages",
    "today",
    "question",
    "studies",
    "bench",
    "bench_meters",
    "live",
    "answer",
    "readings",
    "study_specimens",
    "circuit_files",
    "circuit_report",
    "circuits",
    "specimens",
    "meters_live",
    "current",
    "cards",
    "search",
)
#: What other programs use; described by /api/openapi.json.
PROGRAM_GROUPS = (
    "api.studies",
    "api.cards",
    "api.describe",
)


def group_named(name: str) -> APIRouter:
    """The routes of a group."""
    return cast(APIRouter, import_module(f"ohmsworth.web.{name}").pages)
