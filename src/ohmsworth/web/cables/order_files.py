"""What can be taken away from an order: a PDF for the workshop, one web page, the answer as data, its pictures."""

from __future__ import annotations

import json

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.report.answer import as_json
from ohmsworth.report.document import Document
from ohmsworth.report.particulars import dated
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.cables.order import planned
from ohmsworth.web.cables.order_asked import read_asked
from ohmsworth.web.cables.workshop_frame import ORDER
from ohmsworth.web.drawing import drawing_of, picture_answer, to_keep
from ohmsworth.work.shop_settings import read_settings, signed
from ohmsworth.work.workshop.order import ToldWorkshop

pages = APIRouter(prefix=ORDER)


@pages.get("/order.pdf")
def pdf(request: Request) -> Response:
    """The report as a PDF."""
    content = drawing_of(request).pdf(_handed_over(request), shop_of(request).clock())
    return to_keep(content, "application/pdf", "order.pdf")


@pages.get("/order.html")
def html(request: Request) -> Response:
    """The report as one page that needs nothing else."""
    return to_keep(drawing_of(request).html(_handed_over(request)), "text/html; charset=utf-8", "order.html")


@pages.get("/order.json")
def data(request: Request) -> Response:
    """The answer as data, as `ohmsworth workshop --json` prints it."""
    text = json.dumps(as_json(_told(request).answer), ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", "order.json")


@pages.get("/pictures/{name}")
def picture(request: Request, name: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _told(request).report, name)


def _told(request: Request) -> ToldWorkshop:
    return planned(request, read_asked(request.query_params.multi_items()))[1]


def _handed_over(request: Request) -> Document:
    """The report of today in the shop's name."""
    shop = shop_of(request)
    day = shop.clock().astimezone().date()
    return signed(dated(_told(request).report, day), read_settings(shop.records))
