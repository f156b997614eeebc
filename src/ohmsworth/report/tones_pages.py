"""The wiring card: what to connect, what to do in which order, what to expect."""

from __future__ import annotations

from ohmsworth.report.document import (
    Block,
    Bullets,
    Document,
    Headline,
    Paragraph,
    Section,
    Subheading,
    Table,
    WiredPart,
    WiringFigure,
)
from ohmsworth.report.tones_answer import RecordingAnswer, TonesAnswer
from ohmsworth.report.tones_sentences import SMALL, dry_sentence, show_seconds
from ohmsworth.units import show, show_percent, show_stated

#: Which contact of the plugs of balanced inputs is which.
_PLUGS = "+ is the tip or pin 2, − the ring or pin 3"


def tones_report(answer: TonesAnswer, study: int | None = None) -> Document:
    """The whole card.

    Parameters
    ----------
    answer
        What is to be said of the plan.
    study
        The study of the records that the takes are sent to; None where they lie in a folder beside the wishes.
    """
    apart, output, *hot, loud = answer.cautions
    first: list[Block] = [Headline(answer.sentence)]
    if not answer.level.dry_circuit:
        first.append(Paragraph(dry_sentence(answer), "warning"))
    first += [
        wiring_figure(answer),
        _parts(answer),
        Bullets((apart, output, *hot, loud), tone="caution"),
    ]
    return Document(
        title="Impedance of a contact over frequency",
        subtitle="Wiring card: connect, set the gains, record",
        language="en",
        footer="Made with Ohmsworth before anything was recorded. Keep it with the recordings.",
        sections=(
            Section("What to connect", tuple(first)),
            Section("Step by step", _steps(answer, study), own_page=True),
            Section("What to expect", _expected(answer)),
            Section("Tones", (_tones(answer),)),
            Section("Method and sources", _method(answer)),
        ),
    )


def tones_summary(answer: TonesAnswer) -> Document:
    """What fits a terminal."""
    blocks = (
        Headline(answer.sentence),
        _parts(answer),
        Bullets(answer.findings),
        Bullets(answer.cautions, tone="caution"),
    )
    return Document("Impedance of a contact over frequency", "", "en", "", (Section("The plan", blocks),))


def wiring_figure(answer: TonesAnswer) -> WiringFigure:
    """The drawing of the first take."""
    circuit = answer.circuit
    bridge = None if circuit.bridge is None else WiredPart("bridge", show_stated(circuit.bridge, "Ω"))
    across = (
        f" A bridge of {bridge.value} lies across shunt and contact together." if bridge is not None else ""
    )
    return WiringFigure(
        "wiring",
        f"From the output through the series resistor of {show_stated(circuit.series, 'Ω')}, the shunt of "
        f"{show_stated(circuit.shunt, 'Ω')} and the contact, in this order, back to the return of the output.{across} The sense "
        "leads of input 1 lie across the shunt, plus towards the output; those of input 2 across the contact, plus towards the "
        "shunt. Each is fixed right at its part, inside of the joints that carry the current.",
        "The wiring of the first take; dots are joints, and the sense leads sit right at shunt and contact",
        "output of the interface",
        "return",
        (
            WiredPart("series resistor", show_stated(circuit.series, "Ω")),
            WiredPart("shunt", show_stated(circuit.shunt, "Ω"), input_name="input 1"),
            WiredPart("contact", f"about {show_stated(answer.contact, 'Ω')}", "contact", "input 2"),
        ),
        bridge,
    )


def _parts(answer: TonesAnswer) -> Table:
    circuit, level = answer.circuit, answer.level
    rating = max(2 * level.series_power, SMALL)
    rows = [
        (
            "series resistor",
            show_stated(circuit.series, "Ω"),
            f"for {show(rating, 'W', 1)} or more; the output's own is in it",
        ),
        (
            "shunt",
            f"{show_stated(circuit.shunt, 'Ω')} ± {100 * circuit.shunt_tolerance:.3g} %",
            f"four terminals, little inductance; takes {show(level.shunt_power, 'W', 2)}",
        ),
        (
            "contact",
            f"about {show_stated(answer.contact, 'Ω')}",
            "four-wire: current outside, sense leads inside",
        ),
    ]
    if circuit.bridge is not None:
        rows.insert(2, ("bridge", show_stated(circuit.bridge, "Ω"), "across shunt and contact together"))
    rows += [
        ("two inputs", "balanced", f"{_PLUGS}; an unbalanced input would short the row"),
        (
            "sense leads",
            "two pairs, twisted",
            "short, away from the current's leads, the same for both inputs",
        ),
    ]
    return Table("Parts", ("part", "value", "note"), tuple(rows))


def _steps(answer: TonesAnswer, study: int | None) -> tuple[Block, ...]:
    apart, output, *hot, loud = answer.cautions
    blocks: list[Block] = [
        Subheading("Connect, with everything off"),
        Bullets((apart, output), tone="caution"),
        Bullets(_connecting(), numbered=True),
        Subheading("Set the gains"),
        Bullets((loud, *hot), tone="caution"),
        Bullets(_gains(answer), numbered=True),
        Subheading("Record"),
        Bullets(_recording(answer, study), numbered=True),
        _takes(answer.recordings, study),
    ]
    return tuple(blocks)


def _connecting() -> tuple[str, ...]:
    return (
        "Connect as drawn. Fix the sense leads right at shunt and contact, inside of the joints that carry the current.",
        f"Sense leads go to balanced inputs: {_PLUGS}. The inputs' screens go to the output's return, at one point.",
        (
            "Choose inputs of the same kind. Switch off phantom power, pads, filters, automatic gain, noise reduction and every "
            "effect; direct monitoring too, or the output hears its own inputs."
        ),
        "Put the tone file's rate into the interface and the recorder, with 24 bits or floating point: nothing may be resampled.",
    )


def _gains(answer: TonesAnswer) -> tuple[str, ...]:
    level = answer.level
    larger = "shunt" if level.shunt_voltage >= level.contact_voltage else "contact"
    shown = show(max(level.shunt_voltage, level.contact_voltage) / 2**0.5, "V")
    full = show_stated(answer.circuit.output, "V")
    check = f"{show_seconds(answer.level_check_seconds)} of {show(answer.level_check_frequency, 'Hz')}"
    return (
        f"Play drive.wav. After a short sweep comes the level check: {check}, as strong as the strongest moment of the tones.",
        f"Turn the output up to where it was when its {full} at full scale were found.",
        f"In the level check an alternating voltmeter across the {larger} then shows about {shown}.",
        f"Turn up the gain of the input at the {larger} until the level check peaks between −12 and −6 dB (full scale: 0 dB).",
        "It must never clip. Set the other input to the very same gain, and touch no gain until the last recording is made.",
    )


def _recording(answer: TonesAnswer, study: int | None) -> tuple[str, ...]:
    straight, swapped, *turned = _names(answer.recordings, study)
    length = show_seconds(answer.length)
    steps = [
        "Leave everything on for ten minutes, so that it is warm.",
        f"Record both inputs into one file of two channels; start before drive.wav, play it to its end ({length}), stop last.",
        _saving(straight, study),
        "Stop playing. Exchange the two plugs at the inputs: the shunt's leads to input 2, the contact's to input 1.",
        f"Touch nothing else, the contact least of all, and record again as {swapped}.",
    ]
    if turned:
        steps.append(
            "Exchange + and − of the contact's sense leads at its input, and make both recordings once more: "
            f"{turned[0]} with the shunt on input 1, {turned[1]} with it on input 2."
        )
    return (
        *steps,
        "Keep the recordings as they are: do not trim, normalise, filter or convert them.",
        "'ohmsworth takes FOLDER' then finds the impedance; the folder is that of tones.toml."
        if study is None
        else f"Send the contact's recordings on the page 'Over frequency' of study {study}, each in its field.",
    )


def _names(recordings: tuple[RecordingAnswer, ...], study: int | None) -> tuple[str, ...]:
    """What each recording is called: in the records every contact has files of its own."""
    files = tuple(one.file for one in recordings)
    return files if study is None else tuple(f"contact-1-{name}" for name in files)


def _saving(name: str, study: int | None) -> str:
    """How the first recording is saved."""
    if study is None:
        return (
            f"Save it as {name} (or .flac) beside tones.toml, in no format that loses anything (MP3 and the like). A "
            "recorder that writes one file an input: -1 and -2 before the ending, as in straight-1.wav and straight-2.wav; "
            "likewise below."
        )
    return (
        f"Save it as WAV or FLAC, in no format that loses anything (MP3 and the like), under a name of its own for each "
        f"contact: {name}, say; likewise below. A recorder that writes one file an input: send both files in the same field."
    )


def _takes(recordings: tuple[RecordingAnswer, ...], study: int | None) -> Table:
    rows = tuple(
        (name, one.first_input, one.second_input, "exchanged" if one.turned else "as drawn")
        for name, one in zip(_names(recordings, study), recordings, strict=True)
    )
    return Table("Recordings", ("file", "on input 1", "on input 2", "contact's + and −"), rows)


def _expected(answer: TonesAnswer) -> tuple[Block, ...]:
    level = answer.level
    rows = tuple(
        (name, show(value, "V"), show(value / 2**0.5, "V"))
        for name, value in (
            ("output, open", level.output_voltage),
            ("across the shunt", level.shunt_voltage),
            ("across the contact", level.contact_voltage),
            ("across a contact that opens", level.open_circuit_voltage),
        )
    )
    note = f"The drive peaks at {show_percent(level.peak)} of full scale."
    table = Table("Voltages", ("where", "peak", "a voltmeter shows in the level check"), rows, (1, 2), note)
    dry = Paragraph(dry_sentence(answer), "good" if level.dry_circuit else "warning")
    return (table, dry, Bullets(answer.findings[1:])) if answer.findings[1:] else (table, dry)


def _tones(answer: TonesAnswer) -> Table:
    rows = tuple(
        (show_stated(one.frequency, "Hz"), show(one.current, "A"), show(one.standard_uncertainty, "Ω", 2))
        for one in answer.tones
    )
    note = "Peak current of each tone, and the standard uncertainty of the resistance that noise leaves after all recordings."
    return Table("Tones", ("frequency", "current", "standard uncertainty"), rows, (0, 1, 2), note)


def _method(answer: TonesAnswer) -> tuple[Block, ...]:
    sources = Bullets(tuple(f"{s.citation} ({s.standing})" for s in answer.sources))
    return Bullets(answer.method), Paragraph("Sources:"), sources
