"""A cable's report: the verdict or the sheet first, its wires, what to cut, the method."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ohmsworth.advice.cautions import CABLE_VOLTAGE, CUTTING
from ohmsworth.inference.conformity import OPEN, OVER, WITHIN
from ohmsworth.report.answer import ActionAnswer
from ohmsworth.report.cable_answer import (
    LOOK,
    NOT_YET,
    RIGHT,
    WRONG,
    CableAheadAnswer,
    CableAnswer,
    CableWireAnswer,
)
from ohmsworth.report.cable_figures import cable_figure, fellows_figure
from ohmsworth.report.cable_words import places_in_short, recorded_found
from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Section, Table, Tone
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.words import listed
from ohmsworth.units import decimals_for, show, show_interval, show_percent, show_pm, show_stated

_TONES: dict[str, Tone] = {RIGHT: "good", WRONG: "bad", LOOK: "mixed", NOT_YET: "open", OPEN: "open"}
_RANK = {"no path": 0, OVER: 1, "under": 2, OPEN: 3, None: 4, WITHIN: 5}
#: Wires that fit a terminal; a longer table belongs on paper and in the JSON.
_MOST_TOLD = 12
#: Loops or wires alike that are named in a row.
_MOST_ALIKE = 4


def cable_report(answer: CableAnswer) -> Document:
    """The whole report."""
    sections = [Section("The cable", _first_page(answer))]
    if answer.verdict is None:
        sections.append(Section("The test sheet", _sheet(answer), own_page=True))
    else:
        fellows = fellows_figure(answer)
        drawn = () if fellows is None else (fellows,)
        wires = _wires(answer.wires, answer, len(answer.wires))
        sections.append(Section("Every wire", (*drawn, wires), own_page=True))
    if answer.recorded:
        sections.append(Section("Tests made with other equipment", _recorded(answer)))
    if answer.places:
        sections.append(Section("Where the fault lies", _places(answer)))
    if answer.loops or answer.capacitances:
        sections.append(Section("Loops and capacitances", _ahead(answer)))
    sections += [
        Section("Wiring and cutting", (wiring_table(answer), *_cutting(answer)), own_page=True),
        Section("Method and sources", (Bullets(answer.method), sources_table(answer.sources))),
    ]
    who = f"{answer.name} {answer.serial}".strip()
    title = "Test sheet" if answer.verdict is None else "Test of a cable"
    footer = (
        "Made with Ohmsworth. Low-voltage measurements only: insulation and mains safety are not judged here."
    )
    return Document(who, title, "en", footer, tuple(sections))


def cable_summary(answer: CableAnswer) -> Document:
    """What fits a terminal."""
    out = {one.wire for one in answer.stands_out}
    ranked = sorted(answer.wires, key=lambda wire: (_RANK[wire.verdict], wire.name not in out))
    blocks = (*_first_page(answer, drawn=False), _wires(ranked[:_MOST_TOLD], answer, len(answer.wires)))
    blocks = blocks if answer.verdict else (*blocks, _touches(answer))
    return Document(f"{answer.name} {answer.serial}".strip(), "", "en", "", (Section("The cable", blocks),))


def _first_page(answer: CableAnswer, drawn: bool = True) -> tuple[Block, ...]:
    tone: Tone = _TONES[answer.verdict] if answer.verdict else "plain"
    blocks: list[Block] = [Headline(answer.sentence, tone, answer.verdict or ""), Bullets(answer.findings)]
    if drawn:
        blocks.append(cable_figure(answer))
    return (*blocks, Paragraph("What to do:"), *step_blocks(answer.actions, once=True))


def _cautions(actions: Iterable[ActionAnswer]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(caution for action in actions for caution in action.cautions))


def _wires(wires: Iterable[CableWireAnswer], answer: CableAnswer, whole: int) -> Table:
    """Each wire against its bounds."""
    rows = tuple(
        (
            wire.name,
            _read(wire),
            show(wire.usual, "Ω"),
            show_interval(wire.low, wire.high, "Ω"),
            "–" if wire.probability_within is None else show_percent(wire.probability_within),
            wire.verdict or ("not read" if answer.verdict else "–"),
        )
        for wire in wires
    )
    note = "± is one standard uncertainty." if answer.verdict else ""
    if len(rows) < whole:
        note = f"{note} {whole - len(rows)} more in the report and in the answer's data (JSON).".strip()
    header = ("wire", "reading", "usual", "a good one lies in", "within bounds", "verdict")
    return table("Wires from end to end", header, rows, (1, 2, 3, 4), note)


def _ahead(answer: CableAnswer) -> tuple[Block, ...]:
    """What loops and wires should read beside their resistance from end to end."""
    joined = "Read at one end, the two joined at the other."
    alone = "Of one wire, with everything else of the cable joined, the far end open; what connectors add comes to it."
    told = (
        ("Loops", "two cores", answer.loops, "Ω", joined),
        ("Capacitances", "wire", answer.capacitances, "F", alone),
    )
    return tuple(
        table(caption, (header, "usual", "a good one lies in"), _alike(ones, unit), (1, 2), note)
        for caption, header, ones, unit, note in told
        if ones
    )


def _alike(told: Iterable[CableAheadAnswer], unit: str) -> tuple[tuple[str, ...], ...]:
    """A row for those that should read alike."""
    names: dict[tuple[float, float, float], list[str]] = {}
    for one in told:
        names.setdefault((one.usual, one.low, one.high), []).append(" + ".join(one.wires))
    return tuple(
        (listed(same, _MOST_ALIKE), show(usual, unit), show_interval(low, high, unit))
        for (usual, low, high), same in names.items()
    )


def _recorded(answer: CableAnswer) -> tuple[Block, ...]:
    """What was told of them; nothing of it was measured here."""
    rows = tuple(
        (
            one.test,
            one.between or "–",
            "–" if one.voltage is None else show_stated(one.voltage, "V"),
            recorded_found(one),
            "–" if one.at_least is None else f"at least {show_stated(one.at_least, 'Ω')}",
            "as asked" if one.passed else "NOT as asked",
            ", ".join(text for text in (one.by, one.instrument, one.on) if text) or "–",
        )
        for one in answer.recorded
    )
    header = ("test", "between", "voltage", "found", "asked", "so", "who, with what, when")
    note = "As it was told; this program measured none of it."
    return (Bullets((CABLE_VOLTAGE,), tone="caution"), table("Tests recorded", header, rows, (), note))


def _read(wire: CableWireAnswer) -> str:
    if wire.resistance is None:
        return "–" if wire.line is None else "no path"
    return show_pm(wire.resistance, wire.standard_uncertainty or 0.0, "Ω")


def _sheet(answer: CableAnswer) -> tuple[Block, ...]:
    """What to measure, with room to write."""
    ends = tuple(
        (wire.name, wire.start, wire.stop, show(wire.usual, "Ω"), show_interval(wire.low, wire.high, "Ω"), "")
        for wire in answer.wires
    )
    header = ("wire", "from", "to", "usual", "a good one lies in", "reading")
    note = "Write 'open' for no path; an empty line counts as not measured."
    tables = [_to_write(table("Each wire from end to end", header, ends, (3, 4), note))]
    if answer.links:
        links = tuple((one, other, "nearly none", "") for one, other in answer.links)
        tables.append(_to_write(table("Links", ("from", "to", "usual", "reading"), links)))
    return (Bullets(_cautions(answer.actions), tone="caution"), *tables, _to_write(_touches(answer)))


def _touches(answer: CableAnswer) -> Table:
    """The fewest measurements that show that nothing touches."""
    groups = tuple(
        (str(k), places_in_short(one.one), places_in_short(one.other), "no path", "")
        for k, one in enumerate(answer.measurements, start=1)
    )
    note = (
        "Join the contacts of each column by hand, the meter between both groups. Where a group shows a path, write it down and "
        "ask again: the next step halves the groups."
    )
    header = ("no.", "joined: from", "joined: to", "usual", "reading")
    return table("What must not touch", header, groups, (), note)


def _to_write(made: Table) -> Table:
    """The table with its last column to write into."""
    return replace(made, writing=(len(made.header) - 1,))


def _places(answer: CableAnswer) -> tuple[Block, ...]:
    blocks: list[Block] = []
    for place in answer.places:
        rows = tuple(
            (_PARTS.get(name, name.replace("_", " ")), show(metres, "m", 2)) for name, metres in place.parts
        )
        blocks += [
            Paragraph(place.words, "warning" if place.beyond else "plain"),
            table(
                f"How sure: {place.method}",
                ("what is not known exactly", "adds (standard uncertainty)"),
                rows, (1,), f"Together {show(place.standard_uncertainty, 'm', 2)}.",
            ),
        ]  # fmt: skip
    return tuple(blocks)


_PARTS = {
    "near": "reading at the near end",
    "far": "reading at the far end",
    "per_metre": "what a metre of the wire has",
    "length": "length of the cable",
    "whole": "reading of the sound one",
    "broken": "reading of the broken wire",
    "ratio": "ratio of the bridge",
    "arms": "ratio of the bridge's arms",
    "contacts": "contact at the near end",
    "loop": "resistance of the loop",
    "to_loop": "resistor at balance for the loop",
    "to_fault": "resistor at balance for the fault",
}


def wiring_table(answer: CableAnswer, caption: str = "Wiring") -> Table:
    """Which wire goes from which contact to which."""
    rows = [(w.name, w.start, w.stop, w.kind, w.pair or "–", w.colour or "–") for w in answer.wires]
    rows += [("link", one, other, "–", "–", "–") for one, other in answer.links]
    return table(caption, ("wire", "from", "to", "kind", "pair", "colour"), tuple(rows))


def _cutting(answer: CableAnswer) -> tuple[Block, ...]:
    """How long to cut."""
    lengths: dict[tuple[str, float], int] = {}
    for wire in answer.wires:
        lengths[wire.kind, wire.cut] = lengths.get((wire.kind, wire.cut), 0) + 1
    rows = tuple(
        (
            kind,
            str(number),
            f"{cut:.{max(decimals_for(cut, 4), 0)}f} m",
            f"{number * cut:.{max(decimals_for(cut, 4), 0)}f} m",
        )
        for (kind, cut), number in lengths.items()
    )
    allowances = "; ".join(
        f"{end.name} {show_stated(end.allowance, 'm')}{'' if end.stated else ' (common practice)'}"
        for end in answer.ends
    )
    note = f"In a cable that is bought whole, cut the cable once to the longest. Allowance for each end: {allowances}."
    connectors = tuple((end.name, end.connector or "–", str(len(end.contacts))) for end in answer.ends)
    return (
        Bullets((CUTTING,), tone="caution"),
        table("Cut list", ("kind", "wires", "each", "together"), rows, (1, 2, 3), note),
        table("Ends", ("end", "connector", "contacts"), connectors, (2,)),
    )
