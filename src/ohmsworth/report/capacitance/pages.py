"""The card before the recordings, and the report after them."""

from __future__ import annotations

from ohmsworth.report.capacitance.answer import (
    CAPACITANCE,
    BreakAnswer,
    CapacitanceAnswer,
    WireCapacitance,
)
from ohmsworth.report.capacitance.sentences import farads, ohms, wire_sentence
from ohmsworth.report.document import (
    Block,
    Bullets,
    Document,
    Headline,
    Paragraph,
    Section,
    Subheading,
    Table,
    Tone,
    WiredPart,
    WiringFigure,
)
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.tones_sentences import show_seconds
from ohmsworth.units import show, show_percent, show_stated

_TITLE = "Capacitance of a cable's wires"


def capacitance_report(answer: CapacitanceAnswer) -> Document:
    """The card while nothing is told of a wire, the report from then on."""
    found = bool(answer.wires)
    sections = [Section("What was found", _found(answer))] if found else []
    sections += [
        Section("What to connect", _connect(answer, headed=not found)),
        Section("Step by step", _steps(answer), own_page=True),
        Section("Method and sources", (Bullets(answer.method), sources_table(answer.sources))),
    ]
    subtitle = "By tones through a known resistor" if found else "Card: connect, set the gains, record"
    return Document(
        _TITLE, subtitle, "en", "Made with Ohmsworth. Keep it with the recordings.", tuple(sections)
    )


def capacitance_summary(answer: CapacitanceAnswer) -> Document:
    """What fits a terminal."""
    if answer.wires:
        blocks = _found(answer, whole=False)
    else:
        blocks = (
            Headline(answer.sentence),
            Bullets(answer.findings),
            *_doubts(answer),
            _recordings(answer),
            *_actions(answer),
        )
    return Document(_TITLE, "", "en", "", (Section("Capacitance", blocks),))


def _found(answer: CapacitanceAnswer, whole: bool = True) -> tuple[Block, ...]:
    tone: Tone = "good" if all(one.found == CAPACITANCE for one in answer.wires) else "mixed"
    blocks: list[Block] = [Headline(answer.sentence, tone), Bullets(answer.findings), *_doubts(answer)]
    if whole:
        blocks += [_for_cable(one) for one in answer.breaks]
        blocks += [_wires(answer), *(_budget(one) for one in answer.wires if one.budget)]
    return (*blocks, *_actions(answer))


def _for_cable(one: BreakAnswer) -> Table:
    first, *lines = one.table.splitlines()
    note = "The resistor's tolerance is not in it: it is alike at both ends, and cancels."
    return Table("For cable.toml", (first,), tuple((line,) for line in lines), note=note)


def _doubts(answer: CapacitanceAnswer) -> tuple[Block, ...]:
    if not answer.warnings:
        return ()
    rows = tuple((one.code, one.words, one.what_to_do) for one in answer.warnings)
    return (Table("Doubts", ("code", "what is doubtful", "what to do"), rows),)


def _actions(answer: CapacitanceAnswer) -> tuple[Block, ...]:
    steps = tuple(f"{one.words} {one.why}" for one in answer.actions)
    return (
        Paragraph("What to do:"),
        Bullets(steps, numbered=True),
        Bullets(answer.cautions, tone="caution"),
    )


def _wires(answer: CapacitanceAnswer) -> Table:
    rows = tuple(
        (
            one.file,
            one.wire,
            one.to,
            one.end,
            farads(one) if one.found == CAPACITANCE else "–",
            "–" if one.loss is None else f"{one.loss:z.4f}".replace("-", "−"),
            "–" if one.leak is None else show(one.leak, "Ω", 2),
            one.found if one.resistance is None else f"conducts: {ohms(one)}",
        )
        for one in answer.wires
    )
    header = ("recording", "wire", "against", "from end", "capacitance", "loss factor", "leak", "so")
    note = f"Half of the 95 % interval stands after ±; capacitance and loss factor at {show_stated(answer.told_at, 'Hz')}."
    return table("Every wire", header, rows, (4, 5, 6), note)


def _budget(one: WireCapacitance) -> Table:
    rows = tuple(
        (line.source, show(line.contribution, "F", 2), show_percent(line.share), line.reduce_by)
        for line in one.budget
    )
    header = ("source", "standard uncertainty", "share", "what would reduce it")
    return table(f"How sure: {wire_sentence(one)[:-1]}", header, rows, (1, 2))


def _connect(answer: CapacitanceAnswer, headed: bool) -> tuple[Block, ...]:
    resistor = f"{show_stated(answer.resistor, 'Ω')} ± {100 * answer.resistor_tolerance:.3g} %"
    figure = WiringFigure(
        "capacitance wiring",
        f"From the output through the resistor of {show_stated(answer.resistor, 'Ω')} into the wire; everything else of the "
        "cable goes back to the output's return. Input 1 lies from before the resistor to the return, input 2 from behind it to "
        "the return.",
        "The wiring with a wire behind the resistor; dots are joints. The minus of both inputs goes to the return",
        "output of the interface",
        "return",
        (
            WiredPart("resistor", resistor),
            WiredPart("wire to the rest", "open at the far end", "contact", "input 2"),
        ),
        WiredPart("input 1", "from before the resistor"),
        across_row=True,
    )
    first: tuple[Block, ...] = (Headline(answer.sentence),) if headed else ()
    parts = (
        (
            "resistor",
            resistor,
            "metal film, short ends; a value read with a good meter is better than the print",
        ),
        (
            "two inputs",
            "alike, line or instrument",
            "plus to the circuit, minus to the output's return, same gain",
        ),
        ("leads", "short and fixed", "with the adapter that the cable is plugged into, in every take"),
    )
    cautions = Bullets(answer.cautions, tone="caution")
    return (*first, figure, table("Parts", ("part", "value", "note"), parts), cautions)


def _steps(answer: CapacitanceAnswer) -> tuple[Block, ...]:
    return (
        Subheading("Connect, with everything off"),
        Bullets(answer.cautions, tone="caution"),
        Bullets(_connecting(answer), numbered=True),
        Subheading("Set the gains"),
        Bullets(_gains(answer), numbered=True),
        Subheading("Record"),
        Bullets(_recording(answer), numbered=True),
        _recordings(answer),
    )


def _connecting(answer: CapacitanceAnswer) -> tuple[str, ...]:
    return (
        "Unplug the cable at both ends. The far end stays open, with nothing on it.",
        (
            "Join every conductor that is not measured, the screen among them, to the output's return at the end where the leads "
            "are: that is what the wire is measured against."
        ),
        "Switch off phantom power, pads, filters, automatic gain, noise reduction, effects and direct monitoring.",
        f"Set interface and recorder to {answer.rate} samples a second with 24 bits or floating point.",
    )


def _gains(answer: CapacitanceAnswer) -> tuple[str, ...]:
    check = f"{show_seconds(answer.level_check_seconds)} of {show(answer.level_check_frequency, 'Hz')}"
    return (
        (
            "Put both inputs before the resistor, and play drive.wav: after a short sweep comes the level check, "
            f"{check}, as strong as the strongest moment of the tones."
        ),
        (
            "Set the gain so that it peaks between −12 and −6 dB (full scale: 0 dB) and give the other input the very same. "
            "Touch no gain until the last recording is made."
        ),
    )


def _recording(answer: CapacitanceAnswer) -> tuple[str, ...]:
    return (
        (
            "Make every recording of the table, in its order: start before drive.wav, play it to its end "
            f"({show_seconds(answer.length)}), stop last. Both inputs go into one file of two channels."
        ),
        (
            "In the take with nothing connected the leads and their adapter lie as they will with the cable; only the cable "
            "is missing. Move them as little as you can from then on."
        ),
        "Keep the recordings as they are: do not trim, normalise, filter or convert them.",
        "Run 'ohmsworth capacitance FOLDER' again: it says what was found, and what is still to be recorded.",
    )


def _recordings(answer: CapacitanceAnswer) -> Table:
    rows = tuple(
        (one.file, one.first_input, one.second_input, one.behind, "yes" if one.recorded else "no")
        for one in answer.recordings
    )
    header = ("file", "input 1", "input 2", "behind the resistor", "recorded")
    return table("Recordings", header, rows)
