"""The papers of a cable or a lot as a page shows them, and the form for the next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from fastapi import Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Sent
from ohmsworth.web.papers.key import SigningKey, signing_key
from ohmsworth.work.paper_lines import KeptPaper
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.issuing import PaperSending, issue_paper
from ohmsworth.work.papers.kept.outdated import holding_papers, outdated_papers
from ohmsworth.work.papers.kept.papered import Papered
from ohmsworth.work.papers.kept.proposed import proposed, stated_paper
from ohmsworth.work.shop_settings import read_settings

#: Answers that the shop's settings give.
_SETTLED = ("shop", "address")


@dataclass(frozen=True, slots=True)
class PaperSubject:
    """What the papers of a page are of.

    Parameters
    ----------
    at
        Address of the page.
    word
        "cable" or "lot".
    ready
        Whether a paper can be issued of it.
    gets
        Which paper it gets as it stands, in a sentence.
    waits, waits_at, waits_label
        Until when no paper can be issued, and the page that says what is left.
    said_by
        What a paper that is outdated no longer says, such as "the cable’s rows and description".
    finish
        What is to be done before a paper can take the place of an outdated one.
    """

    at: str
    word: str
    ready: bool
    gets: str
    waits: str
    waits_at: str
    waits_label: str
    said_by: str
    finish: str


@dataclass(frozen=True, slots=True)
class PapersShown:
    """Papers, the last first, and the form.

    `seen` is the last line that is shown; `faults` are by field, `others` of no field; `correctable` are numbers that the next
    one may take the place of; `stated` says that the description has a table of its own.
    `outdated` tells by the line of a paper what the records say otherwise by now.
    """

    of: PaperSubject
    kept: tuple[KeptPaper, ...]
    outdated: Mapping[int, tuple[str, ...]]
    form: PaperForm
    key: str
    seen: int
    signing: SigningKey | None
    stated: bool
    correctable: tuple[str, ...]
    faults: Mapping[str, str]
    others: tuple[str, ...] = ()

    def notice(self, issued: int) -> str:
        """What has just been issued, by its line; "" for none of these."""
        new = next((paper for paper in self.kept if paper.line == issued), None)
        return f"Issued and kept: {new.kind} {new.number}." if new is not None else ""


def papers_shown(request: Request, papered: Papered, of: PaperSubject, seen: int) -> PapersShown:
    """What was issued, and what is proposed for the next; `seen` is the last line of its log."""
    shop = shop_of(request)
    begin = PaperForm()
    signing = signing_key(request)
    outdated: Mapping[int, tuple[str, ...]] = {}
    if signing is not None:
        begin = proposed(papered, shop.clock().astimezone(), who(request), read_settings(shop.records))
        holding = holding_papers(papered)
        outdated = outdated_papers(papered, holding)
        begin = begin.following(holding, outdated)
    kept = papered.kept
    return PapersShown(
        of=of,
        kept=kept,
        outdated=outdated,
        form=begin,
        key=shop.new_key(),
        seen=seen,
        signing=signing,
        stated=bool(stated_paper(papered.toml)),
        correctable=tuple(paper.number for paper in kept if not paper.later),
        faults={},
    )


def issued(request: Request, papered: Papered, shown: PapersShown, sent: Sent) -> Response | PapersShown:
    """Issue what a form states and go back to the page; or the page with what is wrong and all that was typed."""
    key = sent.text("key") or shown.key
    said = {one.name: sent.text(one.name) for one in fields(PaperForm) if one.name not in _SETTLED}
    form = replace(shown.form, **said)
    try:
        line = issue_paper(papered, form, PaperSending(who(request), key, sent.number("seen") or 0))
    except InputRefused as refused:
        there = shown.of.ready and shown.signing and shown.signing.there
        beside = {
            fault.where: fault_words(fault)
            for fault in refused.faults
            if there and fault.where in (*said, *_SETTLED)
        }
        others = tuple(
            f"{fault.where}: {fault_words(fault)}" for fault in refused.faults if fault.where not in beside
        )
        return replace(shown, form=form, key=key, faults=beside, others=others)
    return go_to(f"{shown.of.at}?issued={line.number}")
