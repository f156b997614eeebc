"""How the answer was reached, in sentences, and the sources it leans on."""

from __future__ import annotations

import numpy as np

from ohmsworth.inference.design import Design, Level
from ohmsworth.inference.engine import KENWARD_ROGER, Engine, method_of
from ohmsworth.inference.measured import Measured
from ohmsworth.inference.unequal import RULE
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import PartAnswer, SensitivityAnswer
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.resistance import FORM_WORDS, SINGLE, TONES, Resistances
from ohmsworth.units import show_stated

_LEANING = (
    "Past studies enter as a prior on the scatter that may be wrong: with its weight this study scatters as they did, or in "
    "their proportions, else by any factor; intervals, p-values and verdicts of conditions and comparisons are widened or "
    "narrowed accordingly. Exact p-values, tolerance bounds and each specimen's own verdict rest on this study alone."
)


def method_sentences(
    measured: Measured, resistances: Resistances, study: Study, in_ohm: bool, has_margin: bool
) -> tuple[str, ...]:
    """The method, one point a sentence; `in_ohm` where resistances were read and not volt and ampere."""
    return (
        _reduction(resistances, study),
        _meters(study, in_ohm, bool((resistances.form == TONES).any())),
        _scale(study),
        *_scatter(measured, study),
        *_verdicts(study, has_margin),
    )


def _reduction(resistances: Resistances, study: Study) -> str:
    if (resistances.form == TONES).any():
        return (
            f"Four-wire resistances from tones, one a take: {len(resistances)} takes. Each is the real part of the contact's "
            "impedance at the tone that is told in the answer."
        )
    forms, counts = np.unique(resistances.form, return_counts=True)
    ways = ", ".join(f"{FORM_WORDS[f]} {n}" for f, n in zip(forms, counts, strict=True))
    text = f"Four-wire resistances, by the way they were formed: {ways}."
    if (resistances.form == SINGLE).any():
        text += f" One polarity leaves a thermal EMF in; ±{show_stated(study.bench.emf_allowance, 'V')} is allowed for it."
    return text


def _meters(study: Study, in_ohm: bool, tones: bool) -> str:
    if tones:
        return (
            "What is not known of the shunt, and crosstalk that no take cancels, is common to all takes (it cancels in a "
            "comparison as far as it is alike, and counts in full against the limit); noise is new in every take."
        )
    missing = study.bench.unstated(in_ohm)
    stated = (
        "Stated accuracy is taken as a rectangle; the gain part is common to all readings on a meter (it cancels in a "
        "comparison and counts in full against the limit), counts are new in every reading."
    )
    unstated = (
        f"The accuracy of the {' and '.join(missing)} was not stated: its last digit is in the readings' scatter, an error that "
        "all readings share is in no uncertainty."
    )
    if not missing:
        return stated
    return f"{stated} {unstated}" if len(missing) == 1 and not in_ohm else unstated


def _scale(study: Study) -> str:
    if study.scale == "log":
        return (
            "Contact resistance is positive and skewed: logarithms are analysed, giving medians and ratios."
        )
    return "Resistances are analysed as they are, giving means and differences."


def _scatter(measured: Measured, study: Study) -> list[str]:
    if measured.engine is None:
        return ["No scatter could be estimated."]
    design = measured.engine.design
    told = [told_level(level, design) for level in design.levels]
    names = ", ".join(name for name, _ in told)
    text = f"Scatter is kept apart by {names}, and estimated by restricted maximum likelihood (REML)"
    for name, merged in told:
        if merged:
            text += (
                f"; {name} includes {' and '.join(merged)}, which these readings cannot tell apart from it"
            )
    sentences = [f"{text}.", _intervals(measured)]
    if measured.engine.history is not None:
        sentences.append(_LEANING)
    if design.conditions > 1:
        split = sorted(measured.engine.split)
        how = f"separate for each condition at: {', '.join(split)}" if split else "common to the conditions"
        rule = f" (rule: {RULE})" if study.scatter == "auto" else " (as the study asks)"
        sentences.append(f"Scatter is {how}{rule}.")
    if design.conditions > 2:
        sentences.append(
            "Each comparison has its own error rate; the intervals said to hold together are those of the multivariate t "
            "distribution with the estimates' own correlation."
        )
    return sentences


def told_level(level: Level, design: Design) -> tuple[str, tuple[str, ...]]:
    """A level's name for people, and what is merged into it: what is innermost is always the reading."""
    if level is not design.residual or level.name == "reading":
        return level.name, level.merged
    return "reading", (level.name, *(name for name in level.merged if name != "reading"))


def _intervals(measured: Measured) -> str:
    assert measured.engine is not None
    if method_of(measured.engine) == KENWARD_ROGER:
        text = "Intervals use Kenward and Roger's covariance and degrees of freedom, made for few specimens"
        if measured.engine.fit.at_bound:
            text += "; as some scatter is estimated as zero, they come from the same model with variances let below zero"
            if measured.engine.unequal and measured.design.repaired:
                text += ", differences between kinds of parts that met unequally often from the parts' means"
        return f"{text}."
    if measured.design.paired:
        return (
            "The same specimens serve several conditions: intervals are Student's t on one mean a specimen, each condition "
            "with its own scatter, and comparisons are paired (by Kenward and Roger where only some specimens are shared)."
        )
    many = " (means of more readings weigh more)" if measured.engine.unequal else ""
    if "specimen" in measured.engine.split:
        return f"Each condition keeps the scatter of its own specimens: intervals are Student's t on one mean a specimen{many}."
    return (
        "Some scatter is estimated as zero, where model-based intervals would be needlessly wide: intervals are "
        f"Student's t on one mean a specimen instead{many}."
    )


def _verdicts(study: Study, has_margin: bool) -> list[str]:
    confidence = f"{100 * study.coverage:g} %"
    sentences = []
    if study.limit is not None:
        sentences.append(
            f"Within or over the limit is said when its probability reaches {confidence} (guarded decision, JCGM 106); "
            f"otherwise it is too close to call. The limit of {show_stated(study.limit.resistance, 'Ω')}: {study.limit.source}."
        )
    if has_margin:
        risk = f"{100 * (1 - study.coverage):.2g} %"
        sentences.append(
            f"Too small to matter, or enough to matter, is said on two one-sided tests at {risk} each against the margin; "
            "a significance test alone decides nothing."
        )
    sentences.append(
        f"Intervals cover {confidence}; tolerance bounds hold for 95 % of next matings with {confidence} confidence."
    )
    return sentences


def single_sentences(
    sensitivity: tuple[SensitivityAnswer, ...], parts: tuple[PartAnswer, ...]
) -> tuple[str, ...]:
    """How single specimens and parts were looked at, where they were."""
    sentences = []
    if sensitivity:
        who = "plug and socket" if parts else "specimen"
        sentences.append(
            f"Every verdict was worked out again without each {who} in turn, wherever two or more remained to judge by."
        )
    if parts:
        sentences.append(
            "Plugs and sockets are told by best linear unbiased prediction at the fitted variances, with what the estimation of "
            "the variances costs in the interval."
        )
    return tuple(sentences)


def source_keys(
    measured: Measured, resistances: Resistances, study: Study, uses: tuple[UseAnswer, ...]
) -> tuple[str, ...]:
    """Bibliography keys of everything used, each once."""
    keys = ["GUM", "ASTM-B539", "IEC60512-2-1"]
    if (resistances.form == SINGLE).any():
        keys.append("low-level")
    if measured.engine is not None:
        keys += ["PattersonThompson", "KenwardRoger", "Satterthwaite", "Natrella"]
        keys += _own_forms(measured.engine)
        if measured.design.crossed:
            keys += ["Henderson", "PrasadRao"]
    if study.limit is not None:
        keys.append("JCGM106")
    if measured.design.conditions > 1:
        keys += ["Schuirmann", "Fisher-sign-flip"] + (["DonnerZou"] if study.scale == "log" else ["Fieller"])
    if measured.design.conditions > 2:
        keys.append("Dunnett")
    keys += ["IACS", "ASTM-B258"]
    keys += [t.source for use in uses for t in use.thresholds]
    return tuple(dict.fromkeys(keys))


def _own_forms(engine: Engine) -> list[str]:
    """Sources of the forms that specimen means take with unequal numbers."""
    if not engine.by_means or engine.design.paired:
        return []
    numbers = {len(engine.means.of(c)) for c in range(engine.design.conditions)}
    few = len(numbers) > 1 and "specimen" in engine.split and engine.scatter != "by condition"
    return ["HartungKnapp"] * engine.unequal + ["CochranCox"] * few
