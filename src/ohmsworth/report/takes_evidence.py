"""The pages beside the impedance: Ohm's law, rest, dry circuit, interface and recordings."""

from __future__ import annotations

import math

from ohmsworth.report.document import Axis, Block, Bullets, Line, LineFigure, Paragraph, Table
from ohmsworth.report.takes_answer import BendAnswer, NonOhmicAnswer, RestAnswer, TakesAnswer
from ohmsworth.report.takes_sentences import told
from ohmsworth.report.words import by_chance, p_value
from ohmsworth.units import show, show_stated

_ORDERS = {2: "second harmonic (κ₂)", 3: "third harmonic (κ₃)"}
#: How each recording is connected.
_CONNECTED = {
    "straight": "shunt on input 1",
    "swapped": "shunt on input 2",
    "straight-turned": "shunt on input 1, contact's + and − exchanged",
    "swapped-turned": "shunt on input 2, contact's + and − exchanged",
}


def evidence_blocks(answer: TakesAnswer) -> tuple[Block, ...]:
    """Ohm's law, rest, direct current and dry circuit."""
    blocks: list[Block] = []
    if answer.nonohmic is not None:
        blocks += _nonohmic(answer.nonohmic)
    if answer.rest is not None:
        blocks += _rest(answer.rest)
    if answer.direct is not None:
        difference = told(answer.direct.difference)
        words = (
            f"Tones minus direct current: {difference} (chance alone: {by_chance(answer.direct.p_value)})."
        )
        blocks.append(Paragraph(words, "good" if answer.direct.explained else "warning"))
        if answer.direct.causes:
            blocks += [Paragraph("It may come from:"), Bullets(answer.direct.causes)]
    blocks.append(_dry(answer))
    return tuple(blocks)


def nonohmic_words(found: NonOhmicAnswer) -> str:
    """Whether the contact follows Ohm's law, with what would have been seen."""
    third = found.third
    level = f"its largest tone ({show(found.largest, 'V')})"
    if third.verdict == "not seen":
        return (
            f"No third harmonic of the contact's own is seen; one of {third.index_limit:.0f} dB of its largest tone would have "
            "been."
        ).replace("-", "−")
    index = "" if third.index is None else f"{third.index:.0f} dB of {level}"
    if third.verdict == "contact":
        film = (
            f" A film that is all of its resistance would bend over {show(found.film_voltage, 'V', 2)}."
            if found.film_voltage is not None
            else ""
        )
        return f"The contact does not quite follow Ohm's law: its third harmonic has {index}.{film}".replace(
            "-", "−"
        )
    return f"A third harmonic of {index} is seen, which the inputs may make.".replace("-", "−")


def _nonohmic(found: NonOhmicAnswer) -> list[Block]:
    rows = tuple(_bend(bend) for bend in (found.second, found.third))
    header = ("", "found", "would be found from", "the inputs may feign", "chance by noise", "verdict")
    table = Table(
        "The contact's own harmonics",
        header,
        rows,
        (1, 2, 3, 4),
        f"Levels are of the largest tone, {show(found.largest, 'V')} peak across the contact.",
    )
    figure = _harmonics(found)
    return [Paragraph(nonohmic_words(found)), table, *([] if figure is None else [figure])]


def _bend(bend: BendAnswer) -> tuple[str, ...]:
    ratio = 10 ** (bend.index_limit / 20) / bend.limit if bend.limit > 0 else 0.0
    feigned = 20 * math.log10(bend.inputs * ratio) if bend.inputs > 0 and ratio > 0 else None
    levels = (bend.index, bend.index_limit, feigned)
    shown = ("–" if one is None else f"{one:.0f} dB".replace("-", "−") for one in levels)
    return (_ORDERS[bend.order], *shown, p_value(bend.p_value), bend.verdict)


def _harmonics(found: NonOhmicAnswer) -> LineFigure | None:
    """Third harmonics by tone; None with fewer than two."""
    lines = [
        (one.tone, one.index, one.index_limit)
        for one in found.lines
        if one.order == 3 and one.tone is not None
    ]
    seen = [(tone, index, limit) for tone, index, limit in lines if index is not None and limit is not None]
    if len(seen) < 2:
        return None
    across = tuple(tone for tone, _, _ in seen)
    return LineFigure(
        "harmonics",
        f"Third harmonics of {len(seen)} tones, each beside the level from which one would be found.",
        "Third harmonic that the contact makes of each tone; below the line it is noise.",
        Axis("frequency of the tone", "Hz", logarithmic=True),
        Axis("third harmonic, of the tone's voltage", "dB"),
        (
            Line("would be found from here on", across, tuple(limit for _, _, limit in seen), ideal=True),
            Line("found", across, tuple(index for _, index, _ in seen)),
        ),
    )


def rest_words(rest: RestAnswer) -> str:
    """Whether the contact rested."""
    hidden = show(100 * rest.fluctuation_high, "%", 2)
    if rest.verdict == "at rest":
        return f"The contact rested while it was recorded: its resistance fluctuated by less than {hidden} (95 %)."
    length = rest.time[-1] - rest.time[0]
    if rest.verdict == "drifts" or abs(rest.drift * length) > rest.fluctuation:
        return f"The contact's resistance drifted by {show(100 * rest.drift * length, '%', 2)} over {show(length, 's', 2)}."
    size = show(100 * rest.fluctuation, "%", 2)
    law = "" if rest.exponent is None else f", with a spectrum that falls as 1/f^{rest.exponent:.1f}"
    return f"The contact's resistance fluctuated by {size} (root mean square){law}."


def _rest(rest: RestAnswer) -> list[Block]:
    moved = rest.verdict != "at rest"
    words = Paragraph(rest_words(rest), "warning" if moved else "good")
    if not moved:
        return [words]
    figure = LineFigure(
        "rest",
        rest_words(rest),
        "Change of the contact's resistance while it was recorded.",
        Axis("time", "s"),
        Axis("change of R", "%"),
        (Line("change of R", rest.time, tuple(100 * change for change in rest.change)),),
    )
    return [words, figure]


def _dry(answer: TakesAnswer) -> Table:
    dry = answer.dry
    rows = (
        ("voltage across the contact", show(dry.voltage, "V"), show(dry.voltage_rms, "V"), "20 mV"),
        ("current through it", show(dry.current, "A"), show(dry.current_rms, "A"), "100 mA"),
        ("voltage on it if it opens", show(dry.open_circuit_voltage, "V"), "–", "20 mV"),
        ("highest frequency", show(dry.highest_frequency, "Hz"), "–", "2 kHz"),
    )
    note = "Volts and amperes are those that the drive should give." if dry.by_drive else ""
    return Table(
        "A dry circuit?",
        ("what", "peak", "root mean square", "a dry circuit has at most"),
        rows,
        (1, 2, 3),
        note,
    )


def interface_blocks(answer: TakesAnswer) -> tuple[Block, ...]:
    """What the takes tell of the interface, and which they were."""
    blocks: list[Block] = [_facts(answer), _recordings(answer)]
    residual = answer.residual
    if residual is not None:
        day = "of a day that nobody states" if residual.date is None else f"of {residual.date}"
        load = "" if residual.load is None else f" The load is {show_stated(residual.load, 'Ω')}."
        words = f"Takes of {' and '.join(residual.takes)} {day} were taken off.{load}"
        blocks.append(Paragraph(words, "warning" if residual.date is None else "plain"))
    return tuple(blocks)


def _facts(answer: TakesAnswer) -> Table:
    found = answer.interface
    rows = [
        ("noise of input 1", _density(found.noise[0])),
        ("noise of input 2", _density(found.noise[1])),
    ]
    if found.hum is not None:
        rows += [
            (f"hum at input {number}, {show_stated(found.mains or 0.0, 'Hz')} and harmonics", _hum(volts))
            for number, volts in enumerate(found.hum, start=1)
        ]
    if found.gain_difference is not None and found.phase_difference is not None:
        rows += [
            (
                "gain of input 2 over input 1, lowest tone",
                f"{show(100 * found.gain_difference, '%', 2)} more",
            ),
            ("phase of it, highest tone", f"{math.degrees(found.phase_difference):.3f}°".replace("-", "−")),
        ]
    if found.leak is not None:
        level = f"{20 * math.log10(found.leak):.0f} dB".replace("-", "−") if found.leak > 0 else "none"
        rows.append(("crosstalk from shunt to contact, largest", level))
    clock = f"{found.clock * 1e6:.2f} ± {found.clock_uncertainty * 1e6:.2f} ppm".replace("-", "−")
    rows.append(
        ("recorder's clock against the player's", f"{clock}{'' if found.one_clock else ', two clocks'}")
    )
    note = (
        "Volts are those that the drive should give: nobody stated the inputs' full scale."
        if answer.dry.by_drive
        else ""
    )
    return Table("What the recordings tell of the interface", ("what", "found"), tuple(rows), (1,), note)


def _signed(text: str) -> str:
    return text if text.startswith("−") else f"+{text}"


def _density(volts: float) -> str:
    return f"{volts * 1e9:.2g} nV/√Hz"


def _hum(volts: float) -> str:
    return show(volts, "V", 2) if volts > 0 else "not seen"


def _recordings(answer: TakesAnswer) -> Table:
    rows = tuple(
        (
            one.file,
            one.of,
            _CONNECTED[one.connected],
            f"{one.length:.1f} s",
            "floating point" if one.bits is None else str(one.bits),
        )
        for one in answer.recordings
    )
    header = ("file", "in the contact's place", "connected", "length", "bits")
    return Table("Recordings", header, rows, (3,))
