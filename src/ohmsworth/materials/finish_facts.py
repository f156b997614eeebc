"""Finishes of contacts, gold, silver, tin and nickel: what each is good and bad at."""

from __future__ import annotations

from ohmsworth.materials.facts import PlatingFacts, Statement
from ohmsworth.materials.metals import METALS
from ohmsworth.materials.span import Span

_MICROMETRE = 1e-6


def _bulk(name: str, high: float) -> Span:
    """Ohm metre from the pure bulk metal to a deposit `high` times as resistive."""
    return Span(1.0, high).times(METALS[name].resistivity)


_RESISTIVITY = Statement(
    "Resistivity from the pure bulk metal (published) to that of hard or bright deposits.",
    "plating-handbooks",
    "conductivity",
)

GOLD = PlatingFacts(
    name="gold",
    base=False,
    resistivity=_bulk("gold", 1.6),
    thickness=Span(0.25, 1.27).times(_MICROMETRE),
    force=Span(0.3, 2.0),
    good=(
        Statement(
            "Does not tarnish: resistance is low and stays so, in corrosive air too.", "gold-rules", "tarnish"
        ),
        Statement("Works at low force and with little wipe, and in dry circuits.", "gold-rules", "force"),
        Statement("Does not suffer from fretting corrosion.", "gold-rules", "fretting"),
        Statement("Can be used where there are many matings.", "gold-rules", "wear"),
    ),
    bad=(
        Statement("Dear: it is put on thinly, and only where contact is made.", "practice", "cost"),
        Statement("Soft gold wears off quickly when it slides.", "gold-hardness", "wear"),
        Statement("Dry gold on gold sticks and tears; a thin lubricant helps much.", "Antler", "lubricity"),
        Statement("On tin it is not recommended.", "gold-rules", "galvanic"),
        Statement("Not for plugging and unplugging under load.", "gold-rules", "heat"),
        Statement(
            "Thin coats have pores: what lies beneath corrodes and creeps out.",
            "plating-handbooks",
            "tarnish",
        ),
        Statement("Needs a suitable layer beneath, such as nickel.", "gold-rules", "thickness"),
    ),
    notes=(
        Statement(
            "Usual thickness: 0.25 µm or less only in special uses, 0.5 µm for a short life, 0.76 µm in general, "
            "1.27 µm where much depends on it.",
            "copper-guide",
            "thickness",
        ),
        Statement("Nickel beneath it: 1.25 to 2.5 µm.", "nickel-underplate", "thickness"),
        Statement("Usual force, 0.3 to 2 N.", "practice", "force"),
        _RESISTIVITY,
    ),
)

SILVER = PlatingFacts(
    name="silver",
    base=False,
    resistivity=_bulk("silver", 1.3),
    thickness=Span(2.0, 5.0).times(_MICROMETRE),
    force=Span(2.0, 10.0),
    good=(
        Statement(
            "The best conductor of all metals, for current and for heat.", "silver-review", "conductivity"
        ),
        Statement("At high force, 0.1 to 1 mΩ.", "silver-review", "conductivity"),
        Statement(
            "Rubbed by as little as 50 µm, tarnished silver reads only slightly more than clean.",
            "Bresgen",
            "tarnish",
        ),
        Statement("Does not degrade by fretting corrosion.", "silver-power", "fretting"),
        Statement("Costs a small part of what gold does.", "practice", "cost"),
    ),
    bad=(
        Statement("Tarnishes in nearly any air: the film is a semiconductor.", "Russ", "tarnish"),
        Statement("Without wipe and at low force, 500 Å of it add 0.1 to 1 Ω.", "TamaiKuranaga", "tarnish"),
        Statement("Not a durable finish: for few matings.", "silver-review", "wear"),
        Statement("Vibration does wear it through in the end.", "fretting-memory", "fretting"),
        Statement(
            "Slides badly on itself when it is clean: high friction.", "plating-handbooks", "lubricity"
        ),
        Statement("Needs force and wipe: 2 N or more.", "silver-review", "force"),
        Statement(
            "In damp with voltage across it, it can grow threads across insulation.", "practice", "galvanic"
        ),
    ),
    notes=(
        Statement("2 µm or more, over 1.25 µm of nickel.", "silver-review", "thickness"),
        Statement("For power 2 to 20 µm, at 10 to 100 N.", "silver-review", "force"),
        _RESISTIVITY,
        Statement(
            "Acid silver dips hold thiourea: avoid all contact with it, never mix it with other acids, keep it out of "
            "the drain (it harms water life).",
            "ICSC0680",
            "safety",
        ),
        Statement("Each dip removes silver, and there is little on a contact: not often.", "CCI9/7", "wear"),
    ),
)

TIN = PlatingFacts(
    name="tin",
    base=False,
    resistivity=_bulk("tin", 1.2),
    thickness=Span(2.5, 10.0).times(_MICROMETRE),
    force=Span(1.0, 5.0),
    good=(
        Statement("Cheap.", "practice", "cost"),
        Statement("Solders well.", "practice", "use"),
        Statement("Soft: its insulating oxide gives way with it.", "Antler1988", "tarnish"),
        Statement("May be used in dry circuits.", "tin-rules", "use"),
    ),
    bad=(
        Statement("Must sit still once it is mated.", "tin-rules", "fretting"),
        Statement("Frets worst of all: small movements grind up oxide.", "fretting-memory", "fretting"),
        Statement("Needs 1 N (100 grams-force) or more at each contact.", "tin-rules", "force"),
        Statement("Needs a lubricant.", "tin-rules", "lubricity"),
        Statement("Soft: wears through in few matings.", "practice", "wear"),
        Statement("Not for long service at high temperature.", "tin-rules", "heat"),
        Statement("Not against gold.", "tin-rules", "galvanic"),
        Statement("Not to make or break current.", "tin-rules", "heat"),
    ),
    notes=(
        Statement("2.5 µm or more.", "tin-rules", "thickness"),
        Statement("Usual up to 10 µm, and 1 to 5 N.", "practice", "force"),
        _RESISTIVITY,
        Statement("Pure bright tin can grow whiskers that short neighbours.", "plating-handbooks", "use"),
    ),
)

NICKEL = PlatingFacts(
    name="nickel",
    base=False,
    resistivity=_bulk("nickel", 2.7),
    thickness=Span(2.0, 5.0).times(_MICROMETRE),
    force=Span(3.0, 20.0),
    good=(
        Statement("Hard: bears very many matings.", "practice", "wear"),
        Statement("Cheap, bright, keeps its looks.", "practice", "cost"),
        Statement(
            "As a layer beneath gold it carries the gold and closes off the base metal.", "Antler", "wear"
        ),
        Statement("Not easily softened by heat: it softens at 0.22 V, the highest of these.", "Holm", "heat"),
    ),
    bad=(
        Statement(
            "Its oxide is hard and does not wipe off: a dry circuit may see ohms.", "practice", "tarnish"
        ),
        Statement("Needs high force, some newtons, and sharp edges.", "practice", "force"),
        Statement("Frets.", "fretting-memory", "fretting"),
        Statement(
            "Conducts badly: of these pure metals only tin is worse.", "metal-handbook", "conductivity"
        ),
        Statement("Hard on hard slides roughly without a lubricant.", "practice", "lubricity"),
        Statement("Next to gold, and damp, the nickel corrodes.", "anodic-index", "galvanic"),
    ),
    notes=(
        Statement("Usual 2 to 5 µm, and 3 to 20 N.", "practice", "thickness"),
        _RESISTIVITY,
        Statement(
            "Bright deposits 1.2e-7 to 1.9e-7 Ω·m, no better than tin.", "nickel-deposits", "conductivity"
        ),
        Statement("Many people's skin reacts to nickel.", "practice", "safety"),
    ),
)
