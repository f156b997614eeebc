"""A template uses what its page declares, and nothing else."""

import importlib
import pkgutil

import pytest
from jinja2 import meta, nodes
from jinja2.environment import Environment

import ohmsworth.web
from ohmsworth.web.pages import TEMPLATES, Fragment, Page, _environment

for _module in pkgutil.iter_modules(ohmsworth.web.__path__):
    importlib.import_module(f"ohmsworth.web.{_module.name}")


def pages(base: type) -> list[type]:
    found = [one for child in base.__subclasses__() for one in (child, *pages(child))]
    return [one for one in found if "template" in vars(one)]


def used(environment: Environment, name: str) -> set[str]:
    """The names that a template and those that it extends or includes take from the page."""
    tree = environment.parse((TEMPLATES / name).read_text("utf-8"))
    found = meta.find_undeclared_variables(tree)
    for node in tree.find_all((nodes.Extends, nodes.Include)):
        if isinstance(node.template, nodes.Const):
            found |= used(environment, node.template.value)
    imported = {
        n if isinstance(n, str) else n[1] for node in tree.find_all(nodes.FromImport) for n in node.names
    }
    assigned = {
        node.target.name for node in tree.find_all(nodes.Assign) if isinstance(node.target, nodes.Name)
    }
    return found - imported - assigned


def test_a_name_that_is_not_declared_is_seen() -> None:
    found = meta.find_undeclared_variables(_environment().parse("{% if title %}{{ unheard_of }}{% endif %}"))
    assert found == {"title", "unheard_of"}


@pytest.mark.parametrize("page", [*pages(Page), *pages(Fragment)], ids=lambda page: page.__name__)
def test_a_template_uses_only_what_its_page_declares(page: type) -> None:
    declared = {"offers", *page.__dataclass_fields__}  # type: ignore[attr-defined]
    if issubclass(page, Page):
        declared.add("frame")
    assert used(_environment(), page.template) <= declared  # type: ignore[attr-defined]
