"""How the fitness of a bench was found, in sentences, and the sources that it leans on."""

from __future__ import annotations

from ohmsworth.inference.control import ControlResult
from ohmsworth.inference.control.charts import DECISION, EWMA_WIDTH, SLACK, WEIGHT, WIDTH
from ohmsworth.inference.control.verdict import run_lengths
from ohmsworth.inference.gauge import GaugeResult
from ohmsworth.readings.study import Study


def fitness_method(study: Study, found: GaugeResult | None, charted: ControlResult | None) -> tuple[str, ...]:
    """The method, one point a sentence."""
    told = []
    if charted is not None:
        told += _charts(charted)
    if found is not None:
        told += _study(study, found)
    if study.limit is not None:
        confidence = f"{100 * study.coverage:g} %"
        told.append(
            f"Against the limit a word is said when its probability reaches {confidence} (guarded decision, JCGM 106), "
            "for one trial by one operator on one day, with what the meters' makers state."
        )
        told.append(
            "The test uncertainty ratio is the room from zero to the limit over the width of the 95 % expanded uncertainty."
        )
    told.append(
        "The smallest difference holds for two contacts read by one operator on one day: what they share cancels. "
        f"Two-sided t test at {100 * (1 - study.coverage):.2g} %, seen with a probability of 80 %."
    )
    return tuple(told)


def _charts(charted: ControlResult) -> list[str]:
    single, average, sums = run_lengths(0.0)
    found = run_lengths(1.0)
    made = (
        f"Centre and standard deviation are from the first {charted.limits.first} checks: mean, and mean moving range "
        f"over 1.128. Limits: single checks ±{WIDTH:g} standard deviations; EWMA with weight {WEIGHT:g} at "
        f"±{EWMA_WIDTH:g} of its own; CUSUM with slack {SLACK:g} and decision interval {DECISION:g}."
    )
    alarms = (
        f"With known limits a sound bench would be stopped by each chart once in {single:.0f}, {average:.0f} and "
        f"{sums:.0f} checks, by any of them about once in 190; a shift of one standard deviation is found after "
        f"{found[0]:.0f}, {found[1]:.0f} and {found[2]:.0f}. Limits from 20 checks are rough: half of all sound benches "
        "are then stopped once within some 60 checks."
    )
    return [made, alarms]


def _study(study: Study, found: GaugeResult) -> list[str]:
    layout = {
        "crossed": "Every operator and specimen is a random level, crossed, with an interaction",
        "nested": "Each operator read specimens of their own: specimens lie nested in operators",
        "one operator": "One operator read all: specimens and trials are the levels",
    }[found.form]
    scale = "logarithms" if study.scale == "log" else "resistances"
    told = [f"{layout}; components of {scale} by restricted maximum likelihood (REML)."]
    if found.anova is not None:
        text = "The analysis of variance tests specimens and operators against their interaction"
        if found.form == "nested":
            text = "The analysis of variance tests operators against specimens"
        below = [row.source for row in found.anova if row.raw < 0]
        if below:
            text += f"; a component below zero ({', '.join(below)}) says that none shows, and counts as zero"
        told.append(f"{text}.")
    elif found.form != "one operator":
        told.append("The study is not balanced, so that there is no analysis of variance beside REML.")
    return told


def fitness_sources(
    found: GaugeResult | None, charted: ControlResult | None, limited: bool
) -> tuple[str, ...]:
    """Bibliography keys of everything used, each once."""
    keys = ["GUM"]
    if charted is not None:
        keys += ["NIST-handbook", "ISO7870-2", "Page1954", "LucasSaccucci", "vanDobben"]
    if found is not None:
        keys += ["PattersonThompson", "Satterthwaite", "AIAG-MSA", "ISO5725-2"]
    return (*keys, "JCGM106", "Z540-3") if limited else tuple(keys)
