"""The page that is left when nothing else can be shown: no template, no records."""

from __future__ import annotations

from html import escape

#: Headers of a refusal that is answered to a page which asked for a part of itself: where in that page it goes.
PLACE_OF_REFUSALS = {"HX-Retarget": "#refused", "HX-Reswap": "innerHTML"}


def refusal_part(title: str, mend: str) -> str:
    """The same for a page that asked for a part of itself."""
    return f'<div class="faults" role="alert"><strong>{escape(title)}</strong><p>{escape(mend)}</p></div>'


def refusal_page(title: str, mend: str) -> str:
    """A short page with what is wrong and what to do."""
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<title>{escape(title)}</title><link rel="stylesheet" href="/static/style.css"></head>'
        f'<body><main id="main"><h1>{escape(title)}</h1><p>{escape(mend)}</p></main></body></html>'
    )
