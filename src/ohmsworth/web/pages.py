"""A page: a dataclass that says what its template is given, and the one place that draws it."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from fastapi import Request
from fastapi.responses import HTMLResponse

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"
STATIC = Path(__file__).parent / "static"


@dataclass(frozen=True, slots=True)
class Place:
    """An entry of the navigation."""

    label: str
    address: str
    here: bool = False


#: How the screen may be set; "" is as the system is.
SCREENS = ("light", "dark", "sunlight")
#: The places of the shop, in the order of a day's work.
PLACES = (
    ("Today", "/"),
    ("Studies", "/studies"),
    ("Cables", "/cables"),
    ("Specimens", "/specimens"),
    ("Meters", "/meters"),
    ("Circuits", "/circuits"),
    ("Bench fitness", "/fitness"),
    ("People & jobs", "/shop"),
    ("Records", "/records"),
    ("Settings", "/settings"),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every page: where one is, who one is, and what must not be overlooked."""

    places: tuple[Place, ...]
    who: str
    signed_in: bool
    outside: bool
    current_on: str
    practice: bool
    screen: str
    version: str


@dataclass(frozen=True, kw_only=True)
class Page:
    """What a template is given; a subclass adds its own fields and names its template.

    A test holds the names that a template uses to the fields of its page.
    """

    template: ClassVar[str]
    place: ClassVar[str] = ""

    title: str
    #: One sentence that says what has just happened, or "".
    notice: str = field(default="")

    def here(self) -> str:
        """The label of the place in the navigation where the page stands."""
        return self.place


@dataclass(frozen=True, kw_only=True)
class Fragment:
    """A part of a page that is sent alone."""

    template: ClassVar[str]


def show(request: Request, page: Page | Fragment, status: int = 200) -> HTMLResponse:
    """`page` drawn from its template."""
    return HTMLResponse(drawn(request, page), status)


def drawn(request: Request, page: Page | Fragment) -> str:
    """The text of `page`."""
    given: dict[str, Any] = {entry.name: getattr(page, entry.name) for entry in fields(page)}
    if isinstance(page, Page):
        given["frame"] = frame_of(request, page.here())
    given["offers"] = request.app.state.offers_to(request)
    from ohmsworth.web.filters import SCREEN_MARK

    before = SCREEN_MARK.set(request.cookies.get("mark", ""))
    try:
        return _environment().get_template(page.template).render(given)
    finally:
        SCREEN_MARK.reset(before)


def frame_of(request: Request, place: str) -> Frame:
    """What stands around a page of `request`."""
    # Whoever has not signed in where it is needed sees no places and no name.
    outside = request.app.state.signing_in and getattr(request.state, "caller", None) is None
    return Frame(
        () if outside else tuple(Place(label, address, label == place) for label, address in PLACES),
        "" if outside else getattr(request.state, "who", ""),
        bool(getattr(request.state, "account", None)),
        outside,
        request.app.state.current_on(),
        request.app.state.practice,
        screen if (screen := request.cookies.get("screen", "")) in SCREENS else "",
        program_version(),
    )


@lru_cache(maxsize=1)
def program_version() -> str:
    """The version of this program; looked up once, for it is read from a file."""
    from importlib.metadata import version

    return version("ohmsworth")


@lru_cache(maxsize=1)
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    from ohmsworth.web.filters import FILTERS

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(FILTERS)
    return environment
