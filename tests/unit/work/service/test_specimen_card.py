"""The service card of a specimen: found, done, now, next; and plain words where something is not known."""

import io
import re
from datetime import datetime

import pypdf
import pytest
from tests.unit.work.cards.shops import BY, take, volts
from tests.unit.work.service.served import CARD, TODAY, ServedShop, parts

from ohmsworth import wiring
from ohmsworth.advice.cautions import ALCOHOL, CLEANER, SILVER_DIP, SOLDERING, UNPOWERED
from ohmsworth.errors import InputRefused
from ohmsworth.materials.tarnish_facts import KEEP_SILVER
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.report.document import Bullets, Document, Paragraph, Subheading
from ohmsworth.report.papers.service_pages import MOST_ROWS
from ohmsworth.work.cards.naming import name_specimen
from ohmsworth.work.cards.writing import add_step, read_card, withdraw_step
from ohmsworth.work.records import NoSuchCard
from ohmsworth.work.service.specimen_card import specimen_service
from ohmsworth.work.study_cards import open_study

FOUND, DONE, NOW = "What was found", "What was done", "What it measures now"
NEXT, KEEP, EARLIER = "When to look at it next", "How to keep it", "Earlier services and readings"


def test_found_done_now_and_next_stand_on_it() -> None:
    shop = ServedShop()
    study = shop.study(("2026-03-02", "as found", 12.0))
    shop.treat("2026-03-02", read_as="cleaned", note="on a swab")
    shop.study(("2026-03-02", "cleaned", 3.0), study=study)
    told = parts(shop.paper())
    assert "serial SN 7\n" in told[""]
    assert "limit: 8 mΩ (the shop)" in told[""]
    # The middle of four matings that lie 1 % apart is that of the first two and the last two.
    assert re.match(
        r"1[12]\.\d+ ± 0\.\d+ mΩ, read on 2026-03-02 as 'as found': over the limit of 8 mΩ\.", told[FOUND]
    )
    assert "Read by Bea in study" in told[FOUND]
    assert told[DONE].startswith("Cleaning by Cy, on 2026-03-02. Note: on a swab\n")
    assert re.match(
        r"[23]\.\d+ ± 0\.\d+ mΩ, read on 2026-03-02 as 'cleaned': within the limit of 8 mΩ\.", told[NOW]
    )
    assert "at the next service" in told[NEXT]
    assert told[KEEP].startswith(KEEP_SILVER.words)
    assert "None in the shop's records." in told[EARLIER]


def test_cautions_stand_right_below_their_step_and_once_on_the_page() -> None:
    shop = ServedShop()
    shop.study(("2026-03-01", "as found", 12.0))
    shop.treat("2026-03-02", "exercise")
    shop.treat("2026-03-02", "clean")
    shop.treat("2026-03-02", "replace")
    blocks = shop.paper().sections[0].blocks
    begin = next(i for i, one in enumerate(blocks) if isinstance(one, Subheading) and one.text == DONE) + 1
    kinds = [(type(one), getattr(one, "items", None)) for one in blocks[begin : begin + 6]]
    assert kinds == [
        (Paragraph, None),
        (Bullets, (UNPOWERED,)),
        (Paragraph, None),
        (Bullets, (CLEANER, ALCOHOL, SILVER_DIP)),
        (Paragraph, None),
        (Bullets, (SOLDERING,)),
    ]
    every = [item for one in blocks if isinstance(one, Bullets) for item in one.items]
    assert len(every) == len(set(every))


def test_without_a_re_test_nothing_is_claimed() -> None:
    shop = ServedShop()
    shop.study(("2026-03-02", "as found", 12.0))
    shop.treat("2026-03-02")
    service = shop.service()
    assert service.now is None
    assert service.service.after is None
    told = parts(shop.paper())
    assert told[NOW] == "Not measured again since 2026-03-02. What it reads now is not known.\n"
    assert "mΩ" not in told[NOW]
    assert "When to look again follows from what it reads now" in told[NEXT]


def test_a_specimen_that_was_never_read_says_so() -> None:
    told = parts(ServedShop().paper())
    assert told[FOUND] == "It was not measured before: how it was is not known.\n"
    assert told[DONE] == "Nothing, as far as the records say.\n"
    assert told[NOW] == "Not measured again since. What it reads now is not known.\n"


def test_numbers_of_two_studies_are_each_their_own() -> None:
    shop = ServedShop()
    first = shop.study(("2026-03-02", "as found", 12.0))
    shop.treat("2026-03-03", read_as="cleaned")
    second = shop.study(("2026-05-01", "after a season", 4.0))
    service = shop.service()
    assert service.service.found is not None
    assert service.now is not None
    assert (service.service.found.study, service.now.study) == (f"study {first}", f"study {second}")
    assert service.service.found.resistance == pytest.approx(12e-3, rel=0.01)
    assert service.now.resistance == pytest.approx(4e-3, rel=0.01)
    for one in (service.service.found, service.now):
        assert one.uncertainty is not None
        # Four matings 1 % apart: a standard error of 0.65 %, and a little of the meters.
        assert 0.004 < one.uncertainty / one.resistance < 0.02


def test_what_is_not_written_down_is_seen_by_the_readings_and_told_so() -> None:
    shop = ServedShop()
    study = shop.study(("2026-03-02", "as found", 12.0), ("2026-03-03", "cleaned", 3.0))
    told = parts(shop.paper())
    assert "as the names of its readings say" in told[DONE]
    assert "Who did it is not written down" in told[DONE]
    assert CLEANER in told[DONE]
    shop.study(("2026-03-04", "worn", 5.0), study=study)
    told = parts(shop.paper())
    assert told[DONE].startswith(
        "What was done is not written down: it was read as 'cleaned', and from 2026-03-04 on"
    )
    assert told[EARLIER].startswith("2026-03-03 | 1")


def test_a_treatment_in_the_middle_of_a_condition_parts_it() -> None:
    shop = ServedShop()
    shop.study(("2026-03-02", "", 12.0), ("2026-03-20", "", 3.0))
    shop.treat("2026-03-10", "exercise")
    told = parts(shop.paper())
    assert re.match(r"1[12]\.\d+ ± 0\.\d+ mΩ, read on 2026-03-02: over the limit", told[FOUND])
    assert re.match(r"[23]\.\d+ ± 0\.\d+ mΩ, read on 2026-03-20: within the limit", told[NOW])


def test_meters_without_a_stated_accuracy_are_told_of() -> None:
    shop = ServedShop()
    study = open_study(shop.shop, 'question = "Once?"', (), BY, "s")
    name_specimen(shop.shop, study, "P1", shop.card, BY, "n")
    take(shop.shop, study, volts("P1", "1.2345", time=TODAY), specimen=shop.card)
    told = parts(shop.paper())[FOUND]
    assert "The accuracy of the meters is not stated, so that ± is too small." in told
    assert "not stated" not in parts(read_once(ServedShop()).paper())[FOUND]


def read_once(shop: ServedShop) -> ServedShop:
    shop.study(("2026-03-02", "as found", 12.0))
    return shop


def test_readings_of_two_kinds_have_no_uncertainty_and_are_not_judged() -> None:
    shop = ServedShop()
    study = shop.study(("2026-03-02", "as found", 12.0))
    at = datetime.fromisoformat("2026-03-02T16:00:00+00:00")
    direct = Entry("P1", "as found", mating="9", resistance=Typed("12.1", "mΩ", "resistance"), time=at)
    take(shop.shop, study, direct, specimen=shop.card)
    told = parts(shop.paper())[FOUND]
    assert re.match(
        r"12\.[01]\d* mΩ, read on 2026-03-02 as 'as found': not judged against the limit of 8 mΩ", told
    )
    assert "±" not in told


def test_what_ages_is_judged_by_its_last_day_and_not_by_its_average() -> None:
    shop = ServedShop()
    shop.study(("2026-01-02", "as found", 30.0))
    shop.treat("2026-01-02", read_as="in use")
    shop.study(("2026-02-02", "in use", 4.0), ("2026-03-02", "in use", 6.0), ("2026-05-02", "in use", 11.0))
    service = shop.service()
    assert service.service.after is not None
    assert service.now is not None
    assert (service.service.after.day, service.service.after.verdict) == ("2026-02-02", "within")
    assert service.service.after.resistance == pytest.approx(4e-3, rel=0.01)
    assert (service.now.day, service.now.verdict) == ("2026-05-02", "over")
    assert service.now.resistance == pytest.approx(11e-3, rel=0.01)
    assert [day for day, _ in service.course] == ["2026-02-02", "2026-03-02", "2026-05-02"]
    told = parts(shop.paper())
    assert "Before, as read in the same study: 4.00 mΩ on 2026-02-02, 6.00 mΩ on 2026-03-02." in told[NOW]
    assert "over its limit now" in told[NEXT]


def test_the_worst_of_several_contacts_counts_and_is_named() -> None:
    shop = ServedShop()
    study = shop.study(("2026-03-02", "as found", 2.0), contact="pin 1")
    shop.study(("2026-03-02", "as found", 9.5), contact="pin 2", study=study)
    found = shop.service().service.found
    assert found is not None
    assert (found.contact, found.contacts, found.verdict) == ("pin 2", 2, "over")
    assert "The worst of its 2 contacts: pin 2." in parts(shop.paper())[FOUND]


def test_without_a_limit_nothing_is_judged() -> None:
    shop = ServedShop(limited=False)
    shop.study(("2026-03-02", "as found", 12.0), ("2026-03-03", "cleaned", 3.0))
    told = parts(shop.paper())
    assert "no limit is known to judge it by" in told[NOW]
    assert "Without a limit no day follows" in told[NEXT]


def test_the_next_look_follows_from_the_trend_since_the_treatment() -> None:
    shop = ServedShop()
    shop.study(("2023-01-02", "as found", 30.0))
    shop.treat("2023-02-01", read_as="cleaned")
    shop.study(("2023-03-01", "cleaned", 3.1))
    shop.study(("2024-03-01", "a year on", 3.9))
    shop.study(("2025-03-01", "two years on", 4.9))
    shop.study(("2026-03-01", "three years on", 6.1))
    told = parts(shop.paper())
    # 26 % a year from 6.1 mΩ on reaches 8 mΩ after some fourteen months.
    assert re.search(r"Next look: on 202[67]-\d\d-\d\d.*by the trend", told[NEXT])
    assert "Right after it was treated: 3.1" in told[NOW]
    assert told[EARLIER].count("nothing") == 2


def test_silver_in_a_stated_air_is_looked_at_by_it() -> None:
    shop = ServedShop()
    shop.study(("2026-03-02", "as found", 12.0))
    shop.treat("2026-03-03", read_as="cleaned")
    shop.study(("2026-03-03", "cleaned", 3.0))
    assert "Neither the air" in parts(shop.paper())[NEXT]
    assert "before each use" in parts(shop.paper("GX"))[NEXT]
    with pytest.raises(InputRefused, match="G1"):
        shop.service("mild")


def test_the_day_by_which_the_shop_wants_it_again_stands_on_it() -> None:
    shop = ServedShop()
    add_step(shop.shop, shop.card, "re-test", {"by": "2026-12-01"}, "before the winter tour", BY, "r")
    assert (
        "The shop wants to measure it again by 2026-12-01: before the winter tour."
        in parts(shop.paper())[NEXT]
    )


def test_a_withdrawn_treatment_was_none() -> None:
    shop = ServedShop()
    shop.study(("2026-03-02", "as found", 12.0))
    shop.treat("2026-03-03")
    (one,) = read_card(shop.shop.records, shop.card).treatments
    withdraw_step(shop.shop, shop.card, one.number, "another one", BY, "w")
    assert parts(shop.paper())[DONE] == "Nothing, as far as the records say.\n"


def test_another_card_is_refused() -> None:
    shop = ServedShop()
    with pytest.raises(NoSuchCard):
        specimen_service(shop.desk, shop.shop, 1)


#: What takes the most room comes last.
EVERY = ("exercise", "wipe", "re-lubricate", "re-terminate", "replace", "clean")


def long_shop() -> ServedShop:
    """Ten services of a specimen whose every name is as long as the records take it."""
    names = {
        "serial": "W" * 120,
        "what": "wide microphone cable " * 9,
        "plating": "silver " * 11,
        "remarks": "x" * 2000,
    }
    days = {"made": "2016-01-01", "received": "2016-02-01"}
    shop = ServedShop(said=CARD | names | days)
    for year in range(2016, 2026):
        study = shop.study((f"{year}-03-01", "W" * 60, 12.0 + year % 3), contact="M" * 60)
        shop.study((f"{year}-03-01", "W" * 60, 11.0), contact="W" * 60, study=study)
        for what in EVERY:
            shop.treat(f"{year}-03-02", what, "M" * 60, by_whom="W" * 150, note="wide " * 39)
        shop.study((f"{year}-03-03", "M" * 60, 3.0), study=study)
    shop.study(("2026-04-01", "W" * 60, 4.0))
    add_step(shop.shop, shop.card, "re-test", {"by": "2026-12-01"}, "because it " * 45, BY, "r")
    for name in ("name of the shop", "address of the shop"):
        shop.shop.records.write_setting(name, "Wide name " * 30, BY)
    return shop


def pages(document: Document) -> int:
    return len(pypdf.PdfReader(io.BytesIO(wiring.as_pdf(document, TODAY))).pages)


def test_ten_services_fit_one_page_and_those_without_a_row_are_counted() -> None:
    shop = ServedShop()
    for year in range(2016, 2026):
        study = shop.study((f"{year}-03-01", "as found", 12.0 + year % 3))
        shop.treat(f"{year}-03-02", read_as="cleaned", note="on a swab")
        shop.study((f"{year}-03-03", "cleaned", 3.0), study=study)
    document = shop.paper("G2")
    *rows, note = parts(document)[EARLIER].splitlines()
    assert [row.partition(" |")[0] for row in rows] == [
        f"{year}-03-02" for year in range(2024, 2024 - MOST_ROWS, -1)
    ]
    assert all("over | Cleaning by Cy | " in row and row.endswith("within") for row in rows)
    assert (
        note
        == f"And {9 - MOST_ROWS} earlier ones, from 2016-03-02 to 2019-03-02: the shop's records hold them."
    )
    assert pages(document) == 1


def test_the_longest_names_fit_one_page_and_nothing_is_dropped_in_silence() -> None:
    document = long_shop().paper("G2")
    told = parts(document)
    assert told[EARLIER] == "9 earlier ones, from 2016-03-02 to 2024-03-02: the shop's records hold them.\n"
    assert "3 steps before these: the shop's records hold them." in told[DONE]
    assert f"serial {'W' * 120}" in told[""]
    assert pages(document) == 1


def test_the_page_is_tagged_titled_and_archivable() -> None:
    shop = ServedShop()
    shop.study(("2026-03-02", "as found", 12.0), ("2026-03-03", "cleaned", 3.0))
    document = shop.paper()
    reader = pypdf.PdfReader(io.BytesIO(wiring.as_pdf(document, TODAY)))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert reader.metadata is not None
    assert reader.metadata.title == document.title == "Service card: SN 7 – stage connector"
    xmp = root["/Metadata"].get_object().get_data().decode()
    assert "<pdfaid:part>2<" in xmp
    assert "<pdfaid:conformance>A<" in xmp
    assert "<pdfuaid:part>1<" in xmp
    assert len(reader.pages) == 1


def test_it_is_signed_by_the_shop() -> None:
    shop = ServedShop()
    shop.shop.records.write_setting("name of the shop", "The Cable Bench", BY)
    assert shop.paper().footer.startswith("The Cable Bench. Service card of SN 7")
