"""The groups of pages, in the order in which an address is looked for."""

from __future__ import annotations

from importlib import import_module
from typing import cast

from fastapi import APIRouter

#: Modules below this package, each with its `pages`; what is fixed comes before what holds a number. These are light, and
#: answer the addresses in `ohmsworth.web.later.AT_ONCE`.
FIRST_GROUPS = (
    "health",
    "door.sign_in_pages",
    "door.office_pages",
    "today",
    "studies",
)
PAGE_GROUPS = (
    "care.ageing",
    "care.known",
    "doubted",
    "question",
    "bench",
    "bench_meters",
    "live",
    "answer",
    "lots.lot",
    "lots.papers",
    "lots.printed",
    "readings",
    "frequency",
    "frequency_takes",
    "frequency_record",
    "study_specimens",
    "circuit_files",
    "circuit_report",
    "circuits",
    "fitness_check",
    "fitness_studies",
    "fitness",
    "cables.listing",
    "cables.new",
    "cables.season",
    "cables.order",
    "cables.order_files",
    "cables.lists",
    "cables.rows",
    "cables.description",
    "cables.report",
    "cables.papers",
    "cables.printed",
    "papers.verify",
    "papers.key",
    "cables.measure",
    "care.specimen_care",
    "care.service_cards",
    "specimens",
    "meters_live",
    "current",
    "records",
    "records_in",
    "records_out",
    "settings",
    "cards",
    "search",
)
#: What other programs use; described by /api/openapi.json.
PROGRAM_GROUPS = (
    "api.studies",
    "api.orders",
    "api.cables",
    "api.papers",
    "api.care",
    "api.known",
    "api.cards",
    "api.describe",
)


def group_named(name: str) -> APIRouter:
    """The routes of a group."""
    return cast(APIRouter, import_module(f"ohmsworth.web.{name}").pages)
