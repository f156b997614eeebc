"""What is said of a contact's impedance, in sentences."""

from __future__ import annotations

from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.report.takes_answer import LimitAnswer, ModelAnswer, QuantityAnswer, TakesAnswer
from ohmsworth.report.words import estimate
from ohmsworth.resistance.impedance.sound_faults.grave import GRAVE
from ohmsworth.units import show, show_interval, show_percent, show_pm, show_stated


def told(quantity: QuantityAnswer) -> str:
    """``2.961 ± 0.050 mΩ``: half the width of the interval after the sign."""
    return show_pm(quantity.value, (quantity.high - quantity.low) / 2, quantity.unit)


def takes_sentence(answer: TakesAnswer) -> str:
    """The impedance in a sentence, and where it stands against the limit."""
    first, last = (show(tone.frequency, "Hz", 2) for tone in (answer.tones[0], answer.tones[-1]))
    said = _shape(answer.resistance, answer.model, first, last)
    graves = graves_of(answer)
    if graves:
        return f"Look at the recordings first: {graves[0].rstrip('.')}. What they give cannot be relied on: {said}."
    if answer.limit is None:
        return f"{said}."
    return f"{said}: {limit_words(answer.limit)}."


def graves_of(answer: TakesAnswer) -> tuple[str, ...]:
    """What leaves no number to judge by, in words."""
    return tuple(one.words for one in answer.warnings if one.code in GRAVE)


def _shape(resistance: QuantityAnswer, model: ModelAnswer | None, first: str, last: str) -> str:
    value = told(resistance)
    if model is None or first == last:
        return f"{value} at {first}"
    span = f"from {first} to {last}"
    found = {part.name: part for part in model.parts}
    if model.model == "resistance":
        return f"{value} {span}"
    if model.model == "series":
        return f"{value} in series with {told(found['inductance'])} {span}"
    if model.model == "film":
        film, capacitance = found["film resistance"], found["film capacitance"]
        return (
            f"{value} at low frequencies, {told(film)} of it in a film that a capacitance of {told(capacitance)} "
            f"bridges above about {show(model.corner or 0.0, 'Hz', 2)}"
        )
    if model.model == "skin":
        return f"{value} at low frequencies, rising by skin effect above about {show(model.corner or 0.0, 'Hz', 2)}"
    way = (
        "falls towards high frequencies, as a film's does"
        if model.model == "falls"
        else "rises with frequency"
    )
    return f"{value} at low frequencies; it {way}, by {told_size(model.rise)} up to {last}"


def told_size(change: QuantityAnswer) -> str:
    """The size of a change with its interval."""
    return show_pm(abs(change.value), (change.high - change.low) / 2, change.unit)


def limit_words(limit: LimitAnswer) -> str:
    """``within the limit of 3 mΩ (probability 97 %)``."""
    bound = f"the limit of {show_stated(limit.resistance, 'Ω')}"
    chance = f"within with a probability of {show_percent(limit.probability_within)}"
    if limit.verdict in (WITHIN, OVER):
        return f"{limit.verdict} {bound} ({chance})"
    return f"too close to {bound} to call ({chance})"


def takes_findings(answer: TakesAnswer) -> tuple[str, ...]:
    """What else is worth knowing."""
    return (*_model(answer), *_direct(answer), *_dry(answer), *_residual(answer))


def _model(answer: TakesAnswer) -> tuple[str, ...]:
    model = answer.model
    if model is None:
        return ()
    said = []
    rise = model.rise
    if len(answer.tones) > 1:
        ends = (
            f"from {show(answer.tones[0].frequency, 'Hz', 2)} to {show(answer.tones[-1].frequency, 'Hz', 2)}"
        )
        if rise.low <= 0 <= rise.high:
            said.append(
                f"R is the same at both ends of the tones, {ends}, as far as can be told: "
                f"it changes by {show_interval(rise.low, rise.high, 'Ω')}."
            )
        else:
            way = "rises" if rise.value > 0 else "falls"
            said.append(f"R {way} by {told_size(rise)} {ends}.")
    if model.hidden_film is not None:
        said.append(
            f"No film is seen. One that its capacitance bridges within the tones has {show(model.hidden_film, 'Ω', 2)} at "
            "most; about a film that is bridged only above them, tones say nothing."
        )
    return tuple(said)


def _direct(answer: TakesAnswer) -> tuple[str, ...]:
    direct = answer.direct
    if direct is None:
        return ()
    dc = show_pm(direct.resistance, direct.standard_uncertainty, "Ω")
    difference = estimate(direct.difference.value, direct.difference.low, direct.difference.high)
    begin = f"Direct current told {dc} (standard uncertainty). Tones minus direct current: {difference}"
    if direct.explained:
        return (f"{begin}: the uncertainties explain it.",)
    return (f"{begin}: more than the uncertainties explain. Where the two disagree, direct current governs.",)


def _dry(answer: TakesAnswer) -> tuple[str, ...]:
    dry = answer.dry
    seen = (
        f"{show(dry.voltage, 'V')} peak lay across the contact, {show(dry.current, 'A')} flowed through it, and an open "
        f"contact would have seen {show(dry.open_circuit_voltage, 'V')}"
    )
    allowed = f"{show_stated(DRY_VOLTAGE, 'V')} and {show_stated(DRY_CURRENT, 'A')}"
    scale = " Volts and amperes are those that the drive should give." if dry.by_drive else ""
    beyond = [one for one in dry.exceeded if one != "frequency"]
    if beyond:
        return (f"Not a dry circuit ({', '.join(beyond)}): {seen}; {allowed} are allowed.{scale}",)
    high = (
        f" The standard's own tones end at 2 kHz, these at {show(dry.highest_frequency, 'Hz', 2)}."
        if "frequency" in dry.exceeded
        else ""
    )
    return (f"Dry circuit by voltage and current: {seen}; {allowed} are allowed.{high}{scale}",)


def _residual(answer: TakesAnswer) -> tuple[str, ...]:
    residual = answer.residual
    if residual is None:
        return ()
    names = " and ".join(residual.takes)
    day = f" of {residual.date}" if residual.date else ""
    change = show(residual.resistance[0], "Ω", 2)
    return (f"Takes of {names}{day} took {change} off R at the lowest tone.",)


def takes_method(answer: TakesAnswer) -> tuple[str, ...]:
    """How the impedance was found."""
    residual = () if answer.residual is None else (_RESIDUAL,)
    return (
        "Each take is found by its two marks; the tones' phases tell how the clocks differ.",
        (
            "Each tone is locked in to over whole periods, in groups of them under Hann windows that overlap by half. Noise is "
            "taken from the bins beside it in which nothing is played."
        ),
        (
            "Z is the shunt's impedance times the complex ratio of both inputs; it is never made a magnitude, so that noise adds "
            "nothing on the average."
        ),
        (
            "The root of the product of straight and swapped ratio is free of the inputs' gains and phases; half the difference "
            "of a take and its turned one of crosstalk. What was not cancelled is in the uncertainty."
        ),
        *residual,
        (
            "Resistance, inductance, film or skin effect: weighted least squares over all tones, R and X together. A part is "
            "told when chance alone makes it in fewer than 5 % of cases, the search for its corner allowed for."
        ),
        "Intervals hold with 95 %, by Student's t with Welch and Satterthwaite's degrees of freedom.",
    )


_RESIDUAL = (
    "Short, load and open are taken off by the bilinear form of a linear network between contact and inputs."
)
