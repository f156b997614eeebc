"""Care for a specimen: what it would cost to leave it or to treat it, from the shop's own records."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.materials import ENVIRONMENTS
from ohmsworth.report.answer import as_json
from ohmsworth.report.care.care_sentences import doing, option_words
from ohmsworth.report.particulars import dated
from ohmsworth.report.words import capital
from ohmsworth.units import show_typed
from ohmsworth.web.aside import packed
from ohmsworth.web.at_hand import desk_of, keeping_of, shop_of
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.filters import fault_words
from ohmsworth.web.pages import Page, show
from ohmsworth.web.specimens import limit_of
from ohmsworth.work.cards.specimen_history import InStudy
from ohmsworth.work.care.care_study import ToldCare
from ohmsworth.work.care.form import BOUGHT, CareForm
from ohmsworth.work.care.kept_care import conditions_kept, found_last, kept_care, kept_care_files
from ohmsworth.work.care.of_specimen import kept_specimen
from ohmsworth.work.shop_settings import read_settings, signed

pages = APIRouter(prefix="/specimens/{number}/care")
#: Where a fault of the folder belongs on the form: the end of its place -> the field.
_PLACES = (
    (r"\[limit\], key '?resistance", "limit"),
    (r"key '?limit", "limit"),
    (r"\[contact\], key '?uncertainty", "uncertainty"),
    (r"\[prices\.materials\], key '?([a-z-]+)", "material."),
    (r"\[prices\], key '?([a-z]+)", ""),
    (r"\[storage\], key '?([a-z_]+)", ""),
    (r"^readings\.csv", "uncertainty"),
)
_AFTER = ("exercise", "wipe", *BOUGHT)
#: Fields of one text each.
PLAIN = (
    "limit", "limit_source", "currency", "labour", "failure", "retest", "maker", "maker_words", "environment",
    "clean_since", "uncertainty", "before",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class CareField:
    """A field of a remedy: its name, label, what was typed, what is wrong with it."""

    name: str
    label: str
    value: str
    fault: str


@dataclass(frozen=True, kw_only=True)
class SpecimenCare(Page):
    """The form, and what is told below it; `query` names the question in an address."""

    template: ClassVar[str] = "specimen_care.html.j2"
    place: ClassVar[str] = "Specimens"

    number: int
    name: str
    read: bool
    form: CareForm
    materials: tuple[CareField, ...]
    afters: tuple[CareField, ...]
    forbiddable: tuple[tuple[str, str], ...]
    environments: tuple[tuple[str, str], ...]
    conditions: tuple[str, ...]
    faults: Mapping[str, str]
    others: tuple[str, ...]
    report: Markup
    query: str


@dataclass(frozen=True, slots=True)
class _Asked:
    """A specimen, its studies, and the form about it."""

    title: str
    plating: str
    studies: tuple[InStudy, ...]
    form: CareForm
    sent: bool


@pages.get("")
def care(request: Request, number: int) -> Response:
    """The form with the report below it, once it was sent."""
    asked = _asked(request, number)
    faults, others, report = dict[str, str](), list[str](), Markup()
    query = request.url.query
    if asked.sent and found_last(asked.studies):
        try:
            document = _told(request, asked).report
        except InputRefused as refused:
            faults, others = _placed(refused.faults)
        else:
            report = report_fragment(
                request, document, lambda name: f"/specimens/{number}/care/pictures/{name}?{query}"
            )
    refused_here = bool(faults or others)
    page = _page(request, number, asked, faults, tuple(others), report, query if report else "")
    return show(request, page, 422 if refused_here else 200)


def _page(
    request: Request,
    number: int,
    asked: _Asked,
    faults: Mapping[str, str],
    others: tuple[str, ...],
    report: Markup,
    query: str,
) -> SpecimenCare:
    form = asked.form
    return SpecimenCare(
        title=f"Care for {asked.title}",
        number=number,
        name=asked.title,
        read=bool(found_last(asked.studies)),
        form=form,
        materials=tuple(
            CareField(
                f"material.{name}",
                capital(doing(name)),
                form.materials.get(name, ""),
                faults.get(f"material.{name}", ""),
            )
            for name in BOUGHT
        ),
        afters=tuple(
            CareField(f"after.{name}", f"After {doing(name)}", form.after.get(name, ""), "")
            for name in _AFTER
        ),
        forbiddable=tuple((name, option_words(name)) for name in _AFTER),
        environments=tuple((name, f"{name}, {one.words}") for name, one in ENVIRONMENTS.items()),
        conditions=conditions_kept(desk_of(request), shop_of(request)),
        faults=faults,
        others=others,
        report=report,
        query=query,
    )


def _asked(request: Request, number: int) -> _Asked:
    """What stands in the address; a form that was not sent yet has what the card says."""
    kept = kept_specimen(desk_of(request), shop_of(request).records, number)
    given = request.query_params
    if not given:
        limit, source = stated_limit(request, number)
        form, sent = CareForm(limit=limit, limit_source=source), False
    else:
        form, sent = care_form(lambda name: given.get(name, ""), given.getlist("forbids")), True
    return _Asked(kept.title, kept.plating, kept.studies, form, sent)


def stated_limit(request: Request, number: int) -> tuple[str, str]:
    """The limit that the specimen's card names with its name, as the form says them; "" for none."""
    limit, name = limit_of(request, number)
    return "" if limit is None else show_typed(limit, "resistance"), name


def care_form(given: Callable[[str], str], forbids: Sequence[str]) -> CareForm:
    """The form by the names of its fields, which an address holds."""

    def text(name: str) -> str:
        return given(name).strip()[:2000]

    return CareForm(
        **{name: text(name) for name in PLAIN},
        materials={name: text(f"material.{name}") for name in BOUGHT},
        forbids=tuple(name for name in forbids if name in _AFTER),
        after={name: text(f"after.{name}") for name in _AFTER},
    )


def _files(request: Request, asked: _Asked) -> dict[str, bytes]:
    if not found_last(asked.studies):
        raise HTTPException(404)
    return kept_care_files(
        desk_of(request), shop_of(request), asked.form, asked.title, asked.plating, asked.studies
    )


def _told(request: Request, asked: _Asked) -> ToldCare:
    shop = shop_of(request)
    return kept_care(shop, _files(request, asked), shop.clock().astimezone().date())


def _placed(faults: Sequence[Fault]) -> tuple[dict[str, str], list[str]]:
    """Faults by the field that they are about, the first of each; and those of no field."""
    placed: dict[str, str] = {}
    others: list[str] = []
    for fault in faults:
        field = field_of(fault)
        if field:
            placed.setdefault(field, fault_words(fault))
        else:
            others.append(f"{fault.where}: {fault_words(fault)}")
    return placed, others


def field_of(fault: Fault) -> str:
    """The field that a fault is about; "" for none."""
    for pattern, name in _PLACES:
        match = re.search(pattern, fault.where)
        if match:
            return f"{name}{match[1]}" if match.groups() else name
    return ""


@pages.get("/pictures/{name}")
def picture(request: Request, number: int, name: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _told(request, _asked(request, number)).report, name)


@pages.get("/report.pdf")
def pdf(request: Request, number: int) -> Response:
    """The report of today as a PDF, in the shop's name."""
    shop = shop_of(request)
    told = _told(request, _asked(request, number)).report
    whole = signed(dated(told, shop.clock().astimezone().date()), read_settings(shop.records))
    return to_keep(drawing_of(request).pdf(whole, shop.clock()), "application/pdf", f"care-{number}.pdf")


@pages.get("/answer.json")
def data(request: Request, number: int) -> Response:
    """The answer as data."""
    told = as_json(_told(request, _asked(request, number)).answer)
    text = json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", f"care-{number}.json")


@pages.get("/folder.zip")
def folder(request: Request, number: int) -> Response:
    """The folder that the command line can be asked with."""
    files = _files(request, _asked(request, number))
    named = [(f"care-{number}/{name}", content) for name, content in sorted(files.items())]
    return packed(request, lambda path: keeping_of(request).write_zip(path, named), f"care-{number}.zip")
