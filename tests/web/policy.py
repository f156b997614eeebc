"""What every page and every part of one has to keep to, found by a parser: the content policy, and names for all that acts."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser

#: Attributes that hold an address, those of the swapping script among them.
ADDRESSES = (
    "href", "src", "srcset", "action", "formaction", "poster", "xlink:href", "data", "hx-get", "hx-post", "hx-put",
    "hx-delete", "hx-patch",
)  # fmt: skip
#: Elements that bring in what is not the page's own, or move its addresses.
FOREIGN = {"iframe", "object", "embed", "applet", "base", "foreignobject", "meta-refresh"}
#: An address on this server, within the page, or a picture that the page carries.
OWN = re.compile(r"^(?:/(?!/)|#|\?|$)|^data:image/")
NAMELESS = {"hidden", "submit", "button", "image", "reset"}
VOID = {"meta", "link", "br", "img", "hr", "input", "col", "source", "wbr"}


class Sheet(HTMLParser):
    """The elements of a page or a part, their attributes, and the texts of scripts and styles."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.within: list[str] = []
        self.inline: list[tuple[str, str]] = []
        self.unbalanced: list[str] = []
        self.labelled: set[int] = set()
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if "label" in self.within:
            self.labelled.add(len(self.elements))
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.within.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        if not self.within or self.within.pop() != tag:
            self.unbalanced.append(tag)

    def handle_data(self, data: str) -> None:
        if self.within and self.within[-1] in ("script", "style") and data.strip():
            self.inline.append((self.within[-1], data))

    def all(self, *tags: str) -> list[dict[str, str | None]]:
        """The attributes of every element of these kinds."""
        return [attributes for tag, attributes in self.elements if tag in tags]


def breaches(html: str, whole: bool = True) -> list[str]:
    """What is against the policy in a `whole` page, or in a part of one; empty when it keeps to it.

    No style and no script inside, nothing from elsewhere, every id once, every control with a label, and in a whole page one
    first heading, a title and a language.
    """
    sheet = Sheet(html)
    found = [f"not balanced: {tag}" for tag in [*sheet.unbalanced, *sheet.within]]
    found += [f"{tag} inside the page" for tag, _ in sheet.inline]
    for tag, attributes in sheet.elements:
        found += [
            f"<{tag} {name}>" for name in attributes if name == "style" or name.startswith(("on", "hx-on"))
        ]
        found += [
            f"<{tag} {name}={attributes[name]!r}>"
            for name in ADDRESSES
            if name in attributes and not OWN.match(attributes[name] or "")
        ]
        if tag in FOREIGN or tag == "style" or (tag == "script" and not attributes.get("src")):
            found.append(f"<{tag}>")
        if tag == "meta" and "http-equiv" in attributes:
            found.append("<meta http-equiv>")
    counted = Counter(attributes["id"] for _, attributes in sheet.elements if "id" in attributes)
    found += [f"id {name} {count} times" for name, count in counted.items() if count > 1]
    found += _nameless(sheet)
    return found + (_not_whole(sheet) if whole else [])


def _nameless(sheet: Sheet) -> list[str]:
    """Controls without a label, and labels and descriptions that lead nowhere."""
    ids = {attributes.get("id") for _, attributes in sheet.elements}
    labels = {attributes.get("for") for attributes in sheet.all("label")}
    found = []
    for number, (tag, attributes) in enumerate(sheet.elements):
        if tag in ("input", "select", "textarea") and attributes.get("type") not in NAMELESS:
            named = attributes.get("id") in labels or number in sheet.labelled or attributes.get("aria-label")
            found += [] if named else [f"<{tag} name={attributes.get('name')!r}> without a label"]
        for name in ("aria-describedby", "aria-labelledby"):
            for ident in (attributes.get(name) or "").split():
                found += [] if ident in ids else [f"{name}={ident!r} leads nowhere"]
    return found + [f"label for {ident!r} leads nowhere" for ident in labels - ids if ident]


def _not_whole(sheet: Sheet) -> list[str]:
    found = [] if len(sheet.all("h1")) == 1 else [f"{len(sheet.all('h1'))} first headings"]
    if not sheet.all("title"):
        found.append("no title")
    if not any(attributes.get("lang") for attributes in sheet.all("html")):
        found.append("no language")
    return found
