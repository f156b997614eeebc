"""What resistances mean, in sentences, for each way in which it can turn out."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.report.meaning import FORMAT, AskedAnswer, MeaningAnswer, ReachedAnswer
from ohmsworth.report.meaning_sentences import meaning_findings, meaning_sentence
from ohmsworth.report.use_answers import EffectAnswer, ThresholdAnswer, UseAnswer
from ohmsworth.report.use_words import provisos, unmet

BY_ITSELF = "already passed with ideal contacts: the circuit itself does not meet it"
PROVISO = "This number gives no permission."


def threshold(ohm: float | None, words: str, note: str = "", where: str = "every contact") -> ThresholdAnswer:
    return ThresholdAnswer(words, words, where, ohm, note, "because", "practice")


def use(name: str, *thresholds: ThresholdAnswer, proviso: str = "") -> UseAnswer:
    return UseAnswer("kind", name, {}, (), thresholds, proviso=proviso)


def asked(ohm: float, name: str, *uses: UseAnswer) -> AskedAnswer:
    """A resistance that is past every threshold below it, and past what circuits do not meet by themselves."""
    found = [
        ReachedAnswer(u.name, t.effect, t.words, t.position, t.resistance, t in unmet(u))
        for u in uses
        for t in u.thresholds
        if t in unmet(u) or (t.resistance is not None and t.resistance <= ohm)
    ]
    return AskedAnswer(name, ohm, tuple(sorted(found, key=lambda one: one.resistance or 0.0)))


def answer(
    *uses: UseAnswer, ohms: dict[str, float] | None = None, spread: float | None = None
) -> MeaningAnswer:
    found = tuple(asked(ohm, name, *uses) for name, ohm in (ohms or {}).items())
    return MeaningAnswer(FORMAT, "", (), found, spread, uses, ())


MIC = use(
    "vocal",
    threshold(2.0, "hum comes up"),
    threshold(5.0, "level falls"),
    threshold(5.0, "level falls", where="one leg"),
)
FEED = use("pedals", threshold(0.05, "volts fall"), threshold(None, "never", "not reached below 1 MΩ"))
MAINS = use(
    "stage", threshold(0.004, "heat reaches 1 W: stop"), threshold(0.03, "loop rises: stop"), proviso=PROVISO
)
WEAK = use("weak", threshold(None, "volts fall to 24 V", BY_ITSELF), threshold(3.0, "hum comes up"))


# ------------------------------------------------------------ one use


def test_below_every_threshold() -> None:
    found = answer(MIC, ohms={"1 Ω": 1.0})
    assert meaning_sentence(found) == "Vocal: 1 Ω reaches no threshold."
    assert meaning_findings(found) == ("Next comes 2.0 Ω: hum comes up (every contact).",)


def test_alike_resistances_are_told_together_and_each_word_once() -> None:
    found = answer(MIC, ohms={"1 Ω": 1.0, "1.5 Ω": 1.5, "9 Ω": 9.0})
    assert meaning_sentence(found) == (
        "Vocal: 1 Ω and 1.5 Ω reach no threshold; 9 Ω is past where hum comes up and level falls."
    )
    assert meaning_findings(found) == (
        (
            "9 Ω is past this: hum comes up, from 2.0 Ω (every contact); level falls, from 5.0 Ω (every contact); "
            "level falls, from 5.0 Ω (one leg)."
        ),
    )


def test_without_a_resistance_the_first_threshold() -> None:
    assert (
        meaning_sentence(answer(MIC))
        == "Vocal: the first threshold lies at 2.0 Ω: hum comes up (every contact)."
    )
    assert meaning_findings(answer(MIC)) == ()
    none = use("quiet", threshold(None, "never", "not reached below 1 MΩ"))
    assert (
        meaning_sentence(answer(none)) == "Quiet: no contact resistance below a megohm reaches a threshold."
    )


def test_more_than_three_words_are_counted() -> None:
    many = use("busy", *(threshold(i / 10, f"thing {i}") for i in range(1, 6)))
    assert "is past where thing 1, thing 2, thing 3 and 2 more." in meaning_sentence(
        answer(many, ohms={"9 Ω": 9.0})
    )


def test_what_the_circuit_does_not_meet_itself_is_said_first_and_of_no_contact() -> None:
    for ohms, told in (
        ({"1 Ω": 1.0}, "1 Ω reaches no other threshold."),
        ({"4 Ω": 4.0}, "4 Ω is past where hum comes up."),
    ):
        sentence = meaning_sentence(answer(WEAK, ohms=ohms))
        assert (
            sentence
            == f"Weak: with ideal contacts already volts fall to 24 V: no contact can mend that. {told}"
        )
    alone = use("weak", threshold(None, "volts fall", BY_ITSELF))
    assert meaning_sentence(answer(alone)).endswith(
        "No contact resistance below a megohm reaches another threshold."
    )


def test_with_effects_it_says_what_is_met_instead() -> None:
    effect = EffectAnswer(
        "volts fall to 24 V", "phantom voltage", "V", None, "", "1 Ω", 20.0, 20.0, None, None, 24.0
    )
    told = meaning_sentence(answer(replace(WEAK, effects=(effect,)), ohms={"1 Ω": 1.0}))
    assert told.startswith(
        "Weak: the circuit itself does not meet 24.0 V of phantom voltage (ideal contacts give 20.0 V): "
    )


def test_one_that_is_reached_only_beyond_a_megohm_has_no_beginning() -> None:
    reached = ReachedAnswer("pedals", "never", "it stops", "every contact", None, False)
    found = replace(answer(FEED), asked=(AskedAnswer("1 GΩ", 1e9, (reached,)),))
    assert meaning_sentence(found) == "Pedals: 1 GΩ is past where it stops."
    assert meaning_findings(found) == ("1 GΩ is past this: it stops (every contact).",)


def test_an_effect_that_turns_back_is_told_anew() -> None:
    """What a smaller resistance is past and a larger one is not: then nothing is "too"."""
    one, two = (
        ReachedAnswer("pedals", key, key, "where", at, False) for key, at in (("warm", 0.1), ("dim", 0.2))
    )
    found = replace(
        answer(FEED), asked=(AskedAnswer("1 Ω", 1.0, (one, two)), AskedAnswer("9 Ω", 9.0, (two,)))
    )
    assert meaning_findings(found) == (
        "1 Ω is past this: warm, from 100 mΩ (where); dim, from 200 mΩ (where).",
        "9 Ω is past this: dim, from 200 mΩ (where).",
    )


# ------------------------------------------------------------ several uses


def test_in_how_many_uses_it_matters() -> None:
    ohms = {"1 mΩ": 1e-3, "60 mΩ": 0.06, "80 mΩ": 0.08, "9 Ω": 9.0}
    found = answer(MIC, FEED, ohms=ohms)
    assert meaning_sentence(found) == (
        "1 mΩ reaches no threshold in 2 uses; 60 mΩ and 80 mΩ matter in 1 of 2 uses (pedals); 9 Ω matters in all 2 uses."
    )
    assert meaning_findings(found) == (
        "60 mΩ and 80 mΩ are past where these begin to suffer: pedals (50 mΩ).",
        "9 Ω is past where these begin to suffer: pedals (50 mΩ) and vocal (2.0 Ω).",
    )


def test_what_comes_next_and_first_names_its_use() -> None:
    assert meaning_findings(answer(MIC, FEED, ohms={"1 mΩ": 1e-3})) == (
        "Next comes 50 mΩ: pedals, volts fall (every contact).",
    )
    assert meaning_sentence(answer(MIC, FEED)) == (
        "The first threshold in 2 uses lies at 50 mΩ: pedals, volts fall (every contact)."
    )


def test_a_circuit_that_fails_by_itself_is_counted_for_no_contact() -> None:
    sentence = meaning_sentence(answer(MIC, WEAK, ohms={"1 Ω": 1.0, "2.5 Ω": 2.5}))
    assert sentence.startswith("Weak: with ideal contacts already")
    assert sentence.endswith(
        "1 Ω reaches no other threshold in 2 uses; 2.5 Ω matters in 1 of 2 uses (vocal)."
    )


# ------------------------------------------------------------ what no number may release


def test_of_such_a_use_only_where_it_begins_and_what_is_past_it() -> None:
    ohms = {"1 mΩ": 1e-3, "10 mΩ": 0.01}
    begins = "Stage: the first threshold lies at 4.0 mΩ (heat reaches 1 W: stop; every contact)"
    assert meaning_sentence(answer(MAINS)) == f"{begins}. {PROVISO}"
    assert meaning_sentence(answer(MAINS, ohms={"1 mΩ": 1e-3})) == f"{begins}. {PROVISO}"
    assert meaning_sentence(answer(MAINS, ohms=ohms)) == f"{begins}; 10 mΩ is past it. {PROVISO}"
    assert meaning_sentence(answer(MIC, MAINS, ohms=ohms)) == (
        f"Vocal: 1 mΩ and 10 mΩ reach no threshold. {begins}; 10 mΩ is past it. {PROVISO}"
    )
    none = use("stage", threshold(None, "never", "not reached below 1 MΩ"), proviso=PROVISO)
    assert (
        meaning_sentence(answer(none))
        == f"Stage: no threshold lies between a microohm and a megohm. {PROVISO}"
    )


def test_what_they_all_ask_for_is_told_once_in_a_finding() -> None:
    (past,) = meaning_findings(answer(MAINS, ohms={"1 Ω": 1.0}))
    assert (
        past
        == "1 Ω is past this: heat reaches 1 W, from 4.0 mΩ (every contact); loop rises, from 30 mΩ (every contact): stop."
    )


def test_what_comes_next_of_such_a_use_does_not_stand_alone() -> None:
    (told,) = meaning_findings(answer(MAINS, ohms={"1 mΩ": 1e-3}))
    assert told == f"Next comes 4.0 mΩ: heat reaches 1 W: stop (every contact). {PROVISO}"
    assert not any(PROVISO in finding for finding in meaning_findings(answer(MIC, ohms={"1 mΩ": 1e-3})))


def test_two_of_them_share_what_follows() -> None:
    other = replace(MAINS, name="bar")
    assert meaning_sentence(answer(MAINS, other)).count(PROVISO) == 1
    assert provisos([MIC, MAINS, other]) == [PROVISO]
    assert provisos([MIC]) == provisos([MAINS], f"So. {PROVISO}") == []


# ------------------------------------------------------------ contacts that scatter


def test_what_bands_hold_is_said() -> None:
    found = meaning_findings(answer(MIC, ohms={"9 Ω": 9.0}, spread=1.25))
    assert (
        found[-1]
        == "The bands of the curves hold 95 % of sets of contacts that scatter by 125 % about each resistance."
    )
