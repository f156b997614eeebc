"""What is doubtful about takes, and what to do next."""

from __future__ import annotations

from ohmsworth.advice.cautions import TONES_APART, TONES_LOUD
from ohmsworth.report.answer import ActionAnswer, WarningAnswer
from ohmsworth.report.takes_answer import TakesAnswer
from ohmsworth.report.takes_evidence import rest_words
from ohmsworth.report.words import listed
from ohmsworth.resistance.impedance.against_dc import CAUSES
from ohmsworth.units import show, show_percent, show_stated
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.takes import Found
from ohmsworth.work.tone_files import STRAIGHT_TURNED, SWAPPED, SWAPPED_TURNED

#: Share of a variance from which crosstalk is worth two more recordings.
_WORTH = 0.1
#: Chance below which what a model leaves is taken for more than noise, and difference of gains that no two inputs set alike have.
_UNLIKELY, _APART = 0.01, 0.2
#: Causes of a difference that are told beside it; the report has all.
_CAUSES = 2


def doubts_of(loaded: LoadedTakes, found: Found, answer: TakesAnswer) -> tuple[WarningAnswer, ...]:
    """Every doubt, those first that most is lost by."""
    return (
        *(
            WarningAnswer(one.doubt.code, f"{one.file}: {one.doubt.words}.", (), one.doubt.mend, False)
            for one in found.sound
        ),
        *_missing(loaded, found),
        *_unlike(found, answer),
        *_moved(answer),
        *_film(answer),
        *_folder(loaded, answer),
    )


def _missing(loaded: LoadedTakes, found: Found) -> tuple[WarningAnswer, ...]:
    told = []
    takes, circuit = found.takes, loaded.wishes.circuit
    if ("contact", "swapped") not in takes:
        words = (
            f"There is no {SWAPPED}: gain and phase of the two inputs are not taken out of the ratio. A difference of up to "
            f"{100 * circuit.mismatch:g} % is allowed for."
        )
        do = (
            f"Exchange the two plugs at the inputs, leave the contact and the gains alone, and record again as {SWAPPED}. Where "
            "the contact has been moved since, make both recordings anew."
        )
        told.append(WarningAnswer("NO_SWAPPED_TAKE", words, (), do, False))
    turned = {("contact", "straight-turned"), ("contact", "swapped-turned")}
    there = {place for place in turned if place in takes}
    wanted = {place for place in turned if place[1].removesuffix("-turned") in {kind for _, kind in takes}}
    if there < wanted and (loaded.wishes.turned or _crosstalk_share(answer_part(found)) > _WORTH):
        words = (
            "Takes with the contact's sense leads exchanged are missing: crosstalk from the shunt is not taken out. Up to "
            f"{100 * circuit.crosstalk:.2g} % of the shunt's voltage is allowed for."
        )
        do = (
            f"Exchange + and − of the contact's sense leads at its input, and record again as {STRAIGHT_TURNED} and "
            f"{SWAPPED_TURNED}; the gains and the contact stay as they are."
        )
        told.append(WarningAnswer("NO_TURNED_TAKES", words, (), do, False))
    return tuple(told)


def answer_part(found: Found) -> dict[str, float]:
    """Squares of the parts of the resistance's uncertainty, noise among them."""
    resistance = found.resistance
    return {"noise": resistance.random**2, **{name: part**2 for name, part in resistance.shared.items()}}


def _crosstalk_share(squares: dict[str, float]) -> float:
    total = sum(squares.values())
    return (
        sum(part for name, part in squares.items() if name.startswith("crosstalk")) / total if total else 0.0
    )


def _unlike(found: Found, answer: TakesAnswer) -> tuple[WarningAnswer, ...]:
    told = []
    apart = answer.interface.gain_difference
    if apart is not None and abs(apart) > _APART:
        words = f"By the straight and the swapped take the gains of the two inputs differ by {show_percent(abs(apart))}."
        do = "Set both gains alike and leave them; and look whether the contact was touched between the two. Record both again."
        told.append(WarningAnswer("GAINS_APART", words, (), do, False))
    model = answer.model
    if model is None and len(answer.tones) > 1:
        words = f"The takes are too short to say what the impedance is made of ({found.unfitted})."
        told.append(WarningAnswer("TOO_SHORT_TO_FIT", words, (), "Give the tones more time.", False))
    if model is not None and model.agreement is not None and model.agreement < _UNLIKELY:
        words = (
            f"Neither noise nor what is common to all tones explains what the model leaves ({model.model}): that would happen "
            f"with a chance of {show_percent(model.agreement)}."
        )
        do = (
            "Look at the pictures for tones that stand out; keep sense leads short and twisted, away from the current's; make "
            "the turned takes, and those of a short."
        )
        told.append(WarningAnswer("MODEL_DISAGREES", words, (), do, False))
    direct = answer.direct
    if direct is not None and not direct.explained:
        words = "Tones and direct current disagree by more than their uncertainties explain."
        do = " ".join(direct.causes[:_CAUSES])
        told.append(WarningAnswer("DIRECT_CURRENT_DISAGREES", words, (), do, False))
    return tuple(told)


def _moved(answer: TakesAnswer) -> tuple[WarningAnswer, ...]:
    rest = answer.rest
    if rest is None or rest.verdict == "at rest":
        return ()
    do = (
        "Let the bench warm up for ten minutes and keep cables and table still, then record again. A contact that still moves is "
        f"not at rest: {CAUSES['moved'].partition(': ')[2]}"
    )
    return (WarningAnswer("NOT_AT_REST", rest_words(rest), (), do, False),)


def _film(answer: TakesAnswer) -> tuple[WarningAnswer, ...]:
    beyond = [one for one in answer.dry.exceeded if one != "frequency"]
    if not beyond:
        return ()
    words = (
        f"This was no dry circuit ({listed(beyond)} beyond its limit): a film may have been broken through, so that the contact "
        "reads better than it was."
    )
    do = (
        "Take less current, or a bridge across shunt and contact; the wiring card says which. Record a contact that has not "
        "been measured yet."
    )
    return (WarningAnswer("NOT_A_DRY_CIRCUIT", words, (), do, False),)


def _folder(loaded: LoadedTakes, answer: TakesAnswer) -> tuple[WarningAnswer, ...]:
    told = []
    residual = answer.residual
    if residual is not None and residual.date is None:
        words = f"Takes of {listed(list(residual.takes))} are used, and nobody says of which day they are."
        do = 'Add [calibration] with date = "2026-03-03" to tones.toml; take them anew whenever leads or interface change.'
        told.append(WarningAnswer("CALIBRATION_WITHOUT_DATE", words, (), do, False))
    if loaded.unused:
        words = (
            f"Sound files that are called like no recording were left aside: {listed(list(loaded.unused))}."
        )
        do = "Name them as the wiring card says, or move them out of the folder."
        told.append(WarningAnswer("SOUND_LEFT_ASIDE", words, (), do, False))
    return tuple(told)


def actions_of(loaded: LoadedTakes, found: Found, answer: TakesAnswer) -> tuple[ActionAnswer, ...]:
    """What to do next: doubts first, then what would reduce the uncertainty most."""
    steps = [ActionAnswer(doubt.what_to_do, doubt.words, _cautions(doubt.code)) for doubt in answer.warnings]
    lines = answer.budgets[0].lines
    if lines:
        first = lines[0]
        words = f"For a smaller uncertainty: {first.reduce_by}."
        why = f"Most of it ({show_percent(first.share)} of the variance) is {first.source}, {show(first.contribution, 'Ω', 2)}."
        steps.append(ActionAnswer(words, f"{why}{_enough(loaded, found)}", (TONES_APART, TONES_LOUD)))
    return tuple(steps)


def _cautions(code: str) -> tuple[str, ...]:
    """Those of every step that plays tones."""
    silent = ("CALIBRATION_WITHOUT_DATE", "SOUND_LEFT_ASIDE")
    return () if code in silent else (TONES_APART, TONES_LOUD)


def _enough(loaded: LoadedTakes, found: Found) -> str:
    """How the noise stands against what was wished for."""
    wished = loaded.wishes.uncertainty
    if wished is None:
        return ""
    noise = float(found.curve.random[:, 0, 0].max() ** 0.5)
    if noise <= wished:
        return f" Noise leaves {show(noise, 'Ω', 2)} or less at every tone, as wished ({show_stated(wished, 'Ω')})."
    return f" Noise leaves up to {show(noise, 'Ω', 2)} at a tone; {show_stated(wished, 'Ω')} was wished for."
