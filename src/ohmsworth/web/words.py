"""The page that is left when nothing else can be shown: no template, no records."""

from __future__ import annotations

from html import escape


def refusal_page(title: str, mend: str) -> str:
    """A short page with what is wrong and what to do."""
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<title>{escape(title)}</title><link rel="stylesheet" href="/static/style.css"></head>'
        f'<body><main id="main"><h1>{escape(title)}</h1><p>{escape(mend)}</p></main></body></html>'
    )
