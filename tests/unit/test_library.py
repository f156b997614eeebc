"""The library's face: what stands in it, that it is quick to import, and that it says what the commands say."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.work.answer_study import answer_study

STUDY = ow.Study("Are they alike?", reference="new", limit=ow.Limit(3e-3, "datasheet"), margin=10e-3)
SPECIMEN = ["N1", "N1", "N2", "N2", "T1", "T1", "T2", "T2"]
CONDITION = ["new"] * 4 + ["worn"] * 4
OHM = np.array([2.0, 2.0, 2.2, 2.2, 4.0, 4.0, 5.0, 5.0]) * 1e-3
CURRENT = np.array([0.1, -0.1] * 4)
EMF = 2e-6


def loaded(**changes: object) -> ow.LoadedStudy:
    columns = {
        "specimen": SPECIMEN,
        "condition": CONDITION,
        "voltage": OHM * CURRENT + EMF,
        "current": CURRENT,
    }
    return ow.from_arrays(STUDY, **{**columns, **changes})


@pytest.mark.parametrize("name", ow.__all__)
def test_every_public_name_is_there(name: str) -> None:
    assert getattr(ow, name) is not None
    assert name in dir(ow)


def test_what_is_typed_is_what_is_found() -> None:
    # The names under TYPE_CHECKING, the homes and __all__ are three lists of the same names.
    own = {
        "__version__",
        "answer",
        "fitness",
        "from_arrays",
        "load_study",
        "lot",
        "meaning",
    }
    assert set(ow.__all__) == own | set(ow._HOME)
    assert list(ow.__all__) == sorted(ow.__all__)
    text = Path(ow.__file__).read_text("utf-8").split("if TYPE_CHECKING:")[1].split("#: Where")[0]
    typed = set(text.replace(",", " ").replace("(", " ").replace(")", " ").split())
    assert set(ow._HOME) <= typed


def test_an_unknown_name_is_refused() -> None:
    with pytest.raises(AttributeError, match="no_such_name"):
        ow.no_such_name  # noqa: B018


def test_the_import_alone_loads_nothing_heavy() -> None:
    program = (
        "import sys, ohmsworth; print(sorted({'numpy', 'scipy', 'cyclopts', 'typst'} & set(sys.modules)))"
    )
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_a_folder_is_answered_as_the_command_does(tmp_path: Path) -> None:
    wiring.write_new_study(tmp_path / "study")
    by_name = ow.answer(str(tmp_path / "study"))
    assert by_name == ow.answer(ow.load_study(tmp_path / "study"))
    assert ow.as_json(by_name) == ow.as_json(answer_study(wiring.load_study(tmp_path / "study")))


def test_arrays_give_the_resistances_with_the_offset_gone() -> None:
    found = {s.id: s.resistance for s in ow.answer(loaded()).specimens}
    assert found == pytest.approx({"N1": 2.0e-3, "N2": 2.2e-3, "T1": 4.0e-3, "T2": 5.0e-3}, rel=1e-12)


def test_arrays_and_a_file_give_the_same_answer(tmp_path: Path) -> None:
    rows = "\n".join(
        f"{s},{c},{'+' if i > 0 else '-'},{1e3 * (r * i + EMF):.6f},{1e3 * i:.2f}"
        for s, c, r, i in zip(SPECIMEN, CONDITION, OHM, CURRENT, strict=True)
    )
    (tmp_path / "readings.csv").write_text(
        f"specimen,condition,polarity,voltage [mV],current [mA]\n{rows}\n", "utf-8"
    )
    (tmp_path / "study.toml").write_text(
        'question = "Are they alike?"\nreference = "new"\nmargin = "10 mΩ"\n'
        '[limit]\nresistance = "3 mΩ"\nsource = "datasheet"\n',
        "utf-8",
    )
    by_file, by_array = ow.answer(tmp_path), ow.answer(loaded())
    assert by_file.sentence == by_array.sentence
    assert by_file.comparisons[0].p_value == pytest.approx(by_array.comparisons[0].p_value, rel=1e-6)


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"specimen": []}, "specimen"),
        ({"condition": ["new"] * 3}, "condition"),
        ({"condition": ["old"] * 8}, "reference"),
        ({"specimen": ["N"] * 4 + ["T"] * 4}, "specimen"),
        ({"specimen": ["N"] * 8}, "specimen"),
        ({"mating": [""] * 8}, "mating"),
        ({"current": CURRENT[:5]}, "current"),
        ({"current": CURRENT * 0}, "current"),
        ({"voltage": OHM * np.nan}, "voltage"),
        ({"voltage": None}, "voltage, current, resistance"),
        ({"resistance": OHM}, "voltage, current, resistance"),
        ({"polarity": [3] * 8}, "polarity"),
        ({"polarity": [1] * 8}, "current"),
        ({"time": np.full(8, np.inf)}, "time"),
    ],
)
def test_arrays_that_do_not_fit_are_refused(changes: dict[str, object], name: str) -> None:
    with pytest.raises(ow.ArgumentFault) as refused:
        loaded(**changes)
    assert refused.value.name == name


def test_a_study_of_several_conditions_needs_a_reference() -> None:
    with pytest.raises(ow.ArgumentFault, match="reference"):
        ow.from_arrays(ow.Study(""), specimen=SPECIMEN, condition=CONDITION, resistance=OHM)


def test_readings_in_ohm_with_gaps_in_time() -> None:
    ohm = OHM * (1 + 0.01 * np.arange(8))
    study = ow.from_arrays(ow.Study(""), specimen=SPECIMEN, resistance=ohm, time=np.full(8, np.nan))
    assert ow.answer(study).conditions[0].condition == "all"


def test_the_errors_are_one_family() -> None:
    for error in (ow.ArgumentFault, ow.InputRefused, ow.QuantityFault, ow.UnknownName, ow.OutputFault):
        assert issubclass(error, ow.OhmsworthError)


def test_a_lot_is_planned_and_judged_from_records() -> None:
    asked = ow.Study("Sell?", limit=ow.Limit(3e-3, "datasheet"), lot=ow.LotRequest((0.05, 0.30), size=20))
    found = ow.lot(asked)
    assert found.plan is not None
    assert found.verdict is None
    names = [f"P{i}" for i in range(found.plan.sample) for _ in range(2)]
    ohm = np.repeat(np.linspace(1.8e-3, 2.2e-3, found.plan.sample), 2) * np.tile(
        [1.0, 1.01], found.plan.sample
    )
    judged = ow.lot(ow.from_arrays(asked, specimen=names, resistance=ohm))
    assert (judged.verdict, judged.plan) == ("accept", found.plan)
    with pytest.raises(ow.ArgumentFault):
        ow.lot(STUDY)


@pytest.mark.parametrize("left", ["aside", "off"])
def test_a_condition_of_which_nothing_is_left_is_refused(left: str) -> None:
    """It would vanish, and the others stand under its name."""
    lines = dict.fromkeys(range(2, 6), "spoilt")
    study = replace(STUDY, set_aside=lines if left == "aside" else {})
    polarity = np.where((np.arange(8) < 4) & (left == "off"), 0, 1)
    with pytest.raises(ow.ArgumentFault, match="no reading left of new"):
        ow.from_arrays(
            study,
            specimen=SPECIMEN,
            condition=CONDITION,
            voltage=OHM * 0.1,
            current=[0.1] * 8,
            polarity=polarity,
        )
