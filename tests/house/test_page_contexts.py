"""A page's template uses exactly the names that its dataclass declares."""

import dataclasses
import importlib
import pkgutil

import pytest
from jinja2 import Environment, FileSystemLoader, meta
from jinja2.nodes import FromImport

from ohmsworth import web
from ohmsworth.web.filters import FILTERS
from ohmsworth.web.pages import TEMPLATES, Fragment, Page

ENVIRONMENT = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True)
ENVIRONMENT.filters.update(FILTERS)  # a filter that there is not fails in the reading


def used_names(template: str) -> set[str]:
    """The names that a template takes from its context, and so do those that it extends, includes and imports."""
    source = (TEMPLATES / template).read_text(encoding="utf-8")
    tree = ENVIRONMENT.parse(source)
    others = [name for name in meta.find_referenced_templates(tree) if name]
    # A macro that is taken in at the top of a file is known in its blocks too.
    macros = {
        name[1] if isinstance(name, tuple) else name
        for node in tree.find_all(FromImport)
        for name in node.names
    }
    own = meta.find_undeclared_variables(tree) - macros
    return own.union(*(used_names(name) for name in others))


def declared() -> list[type[Page | Fragment]]:
    """Every page and fragment of the package that names a template."""
    for module in pkgutil.walk_packages(web.__path__, f"{web.__name__}."):
        importlib.import_module(module.name)
    found: list[type[Page | Fragment]] = []
    waiting: list[type[Page | Fragment]] = [Page, Fragment]
    while waiting:
        kind = waiting.pop()
        waiting += kind.__subclasses__()
        if hasattr(kind, "template") and kind.__module__.startswith(f"{web.__name__}."):
            found.append(kind)
    return sorted(found, key=lambda kind: kind.__qualname__)


PAGES = declared()


def test_there_are_pages() -> None:
    assert {kind.__name__ for kind in PAGES} >= {"Today", "Studies", "Circuits", "CircuitsTold"}


@pytest.mark.parametrize("kind", PAGES, ids=lambda kind: kind.__qualname__)
def test_a_template_and_its_page_agree(kind: type[Page | Fragment]) -> None:
    names = {entry.name for entry in dataclasses.fields(kind)}
    given = names | ({"frame"} if issubclass(kind, Page) else set())
    used = used_names(kind.template) - {"offers"}  # every template may ask what may be offered
    assert used - given == set(), "the template uses what the page does not give"
    assert given - used == set(), "the page gives what the template does not use"


def test_every_template_belongs_to_a_page() -> None:
    reached = set()
    waiting = {kind.template for kind in PAGES}
    while waiting:
        name = waiting.pop()
        reached.add(name)
        tree = ENVIRONMENT.parse((TEMPLATES / name).read_text(encoding="utf-8"))
        waiting |= {other for other in meta.find_referenced_templates(tree) if other} - reached
    assert {path.name for path in TEMPLATES.glob("*.j2")} == reached
