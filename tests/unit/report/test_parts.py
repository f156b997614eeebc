"""What is said and drawn of plugs and sockets that are paired anew."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import answer

from ohmsworth.report.answer import Answer, Interval, PartAnswer, ScatterAnswer
from ohmsworth.report.parts import MOST_PARTS, part_note, part_rows, part_sentences, parts_figure, shown_parts


def part(
    name: str,
    effect: tuple[float, float | None, float | None] = (1.0, 0.95, 1.05),
    above: int = 2,
    partners: int = 4,
    conditions: tuple[str, ...] = ("all",),
) -> PartAnswer:
    value, low, high = effect
    middle = 1.0 if value > 0.1 else 0.0
    out = (
        None if low is None or high is None else "high" if low > middle else "low" if high < middle else None
    )
    kind = "plug" if name.startswith("P") else "socket"
    return PartAnswer(kind, name, conditions, Interval(*effect), partners, above, 8, out)


SOCKETS = [part(f"S{i}") for i in range(4)]
HIGH = (1.38, 1.2, 1.6)


def scatter(plug: float, socket: float, pair: float, merged: bool = False) -> tuple[ScatterAnswer, ...]:
    last = ("reading", ("specimen", "mating")) if merged else ("specimen", ())
    return (
        ScatterAnswer("plug", None, plug, 4, ()),
        ScatterAnswer("socket", None, socket, 4, ()),
        ScatterAnswer(last[0], None, pair, 16, last[1]),
    )


def of(*parts: PartAnswer, levels: tuple[ScatterAnswer, ...] = (), scale: str = "log") -> Answer:
    return replace(answer(), parts=parts, scatter=levels, scale=scale)


@pytest.mark.parametrize(
    ("high", "sentence"),
    [
        (
            part("P3", HIGH, 4),
            "Plug P3 is high with every socket: 38 % above the middle of the plugs (20 to 60 %).",
        ),
        (
            part("P3", HIGH, 3),
            "Plug P3 is high with 3 of the 4 sockets that it was paired with: 38 % above the middle of the plugs (20 to 60 %).",
        ),
        (
            part("P3", HIGH, 3, 3),
            "Plug P3 is high with every socket that it was paired with: 38 % above the middle of the plugs (20 to 60 %).",
        ),
        (
            part("P3", (1.082, 1.071, 1.093), 4),
            "Plug P3 is high with every socket: 8.2 % above the middle of the plugs (7.1 to 9.3 %).",
        ),
        (
            part("P3", (4.2, 3.1, 5.7), 4),
            "Plug P3 is high with every socket: 4.2 times the middle of the plugs (3.1 to 5.7).",
        ),
        (
            part("P3", HIGH, 4, conditions=("worn",)),
            "Plug P3 is high with every socket: 38 % above the middle of the plugs under the same conditions (20 to 60 %).",
        ),
    ],
)
def test_a_high_part(high: PartAnswer, sentence: str) -> None:
    assert part_sentences(of(part("P1"), high, *SOCKETS)) == [sentence]


def test_a_high_part_in_ohm() -> None:
    found = of(part("P3", (0.9e-3, 0.6e-3, 1.2e-3), 4), *SOCKETS, scale="linear")
    assert part_sentences(found)[0] == (
        "Plug P3 is high with every socket: 900 µΩ above the middle of the plugs (0.60 to 1.20 mΩ)."
    )


def test_several_high_parts_are_named_highest_first_and_the_rest_counted() -> None:
    many = [part(f"P{i}", (1.2 + 0.1 * i, 1.1 + 0.1 * i, 1.4 + 0.1 * i), 4) for i in range(5)]
    told = part_sentences(of(*many, *SOCKETS))
    assert [sentence[:7] for sentence in told] == ["Plug P4", "Plug P3", "Plug P2"]
    assert told[-1].endswith(" 2 more parts stand out as high.")


@pytest.mark.parametrize(
    ("levels", "told"),
    [
        (
            scatter(0.03, 0.02, 0.12),
            ["It is the pairing, not a single part: pairs scatter by 12 %, plugs by 3 % and sockets by 2 %."],
        ),
        (
            scatter(0.03, 0.02, 0.12, merged=True),
            [
                (
                    "It is the pairing or the mating, not a single part: they scatter by 12 %, plugs by 3 % and sockets by "
                    "2 %; mate each pair again to tell the two apart."
                )
            ],
        ),
        (scatter(0.03, 0.02, 0.04), []),
        (scatter(0.13, 0.02, 0.12), []),
        (scatter(0.0, 0.0, 0.0), []),
        ((), []),
    ],
)
def test_the_pairing_is_told_where_it_scatters_most(
    levels: tuple[ScatterAnswer, ...], told: list[str]
) -> None:
    assert part_sentences(of(part("P1"), *SOCKETS, levels=levels)) == told
    assert part_sentences(of(levels=levels)) == []


def test_what_is_off_by_little_is_not_spoken_of() -> None:
    small = part("P3", (1.03, 1.01, 1.05), 4)
    assert small.stands_out == "high"
    assert part_sentences(of(small, *SOCKETS)) == []
    assert part_sentences(of(small, *SOCKETS, levels=scatter(0.02, 0.0, 0.2)))[0].startswith(
        "It is the pairing"
    )
    low = part("P3", (0.7, 0.6, 0.8), 0)
    assert part_sentences(of(low, *SOCKETS, levels=scatter(0.02, 0.0, 0.2))) == []


def test_the_table_and_the_picture_show_the_same_parts() -> None:
    told = of(part("P2", HIGH, 4), part("P10"), part("S1", (1.0, None, None)))
    assert part_rows(told) == (
        ("plug P2", "all", "4", "4 of 4", "8", "1.38 (1.20 to 1.60)", "high"),
        ("plug P10", "all", "4", "2 of 4", "8", "1.000 (0.950 to 1.050)", "no"),
        ("socket S1", "all", "4", "2 of 4", "8", "not told apart", "no"),
    )
    figure = parts_figure(told)
    assert figure is not None
    assert [(m.label, m.value, m.flag) for m in figure.marks] == [("P2", 1.38, "high"), ("P10", 1.0, "")]
    assert figure.alt == "Plugs and sockets against the middle of their kind: plug P2 is high."
    assert parts_figure(of(part("S1", (1.0, None, None)))) is None


def test_of_many_parts_the_farthest_are_shown() -> None:
    many = [part(f"P{i}", (1 + 0.01 * i, 0.9, 1.9)) for i in range(MOST_PARTS + 3)]
    told = of(*many)
    assert {p.id for p in many} - {p.id for p in shown_parts(told)} == {"P0", "P1", "P2"}
    assert part_note(told).endswith(" 3 more parts in the answer's data (JSON).")
    assert not part_note(of(*many[:5])).endswith("in the answer's data (JSON).")
