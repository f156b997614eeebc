"""The form of a study's question: filled from cards, planned by its chance, and a study done again."""

from dataclasses import replace

from starlette.testclient import TestClient
from tests.unit.web.clients import browsing, key_of, page
from tests.unit.work.cards.shops import BY, GIVEN, METER, START, new_shop, study, take, volts
from tests.unit.work.checked_days import standard
from tests.web.policy import Sheet, breaches

from ohmsworth.work.cards.writing import open_card, put_away
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import FILE, StudyState, fold

ASKED = {
    "question": "Does cleaning help?",
    "conditions": "new\ncleaned",
    "specimens": "3",
    "matings": "2",
    "reversal": "yes",
    "assignment": "separate",
}
GUESSED = {
    "plan.goal": "detect",
    "plan.effect": "20 %",
    "plan.specimen": "10 %",
    "plan.mating": "10 %",
    "plan.reading": "2 %",
}


def ask(client: TestClient, status: int, where: str = "/studies/new", **fields: str) -> str:
    """The page that follows, or where it leads."""
    key = key_of(page(client, where))
    answer = client.post(where, data={"key": key, **fields}, follow_redirects=False)
    assert answer.status_code == status, answer.text[:3000]
    assert answer.status_code == 303 or breaches(answer.text) == []
    return answer.headers.get("location", answer.text)


def asked(client: TestClient, shop: Shop, **fields: str) -> tuple[int, StudyState]:
    """A new study from the form."""
    number = int(ask(client, 303, **(ASKED | fields)).split("/")[2])
    return number, fold(shop.records.lines(number))


def values(text: str) -> dict[str, str | None]:
    """What stands in the fields of a page."""
    return {one["name"] or "": one.get("value") for one in Sheet(text).all("input") if "name" in one}


def test_an_empty_shop_offers_no_cards_and_enter_asks_the_question() -> None:
    with browsing() as (client, _):
        text = page(client, "/studies/new")
        assert breaches(text) == []
        assert "pick-limit" not in text
        buttons = text[text.index('action="/studies/new"') :]
        assert buttons.index("To the bench") < buttons.index("Work it out")


def test_cards_that_are_picked_win_over_what_was_typed() -> None:
    shop = new_shop()
    meter = open_card(shop, "meter", METER, BY, "m")
    limit = open_card(shop, "limit", GIVEN["limit"], BY, "l")
    job = open_card(shop, "job", GIVEN["job"], BY, "j")
    bar = standard(shop)
    with browsing(shop) as (client, _):
        assert breaches(page(client, "/studies/new")) == []
        picks = {
            "pick.voltmeter": f"{meter}.2",
            "pick.limit": str(limit),
            "pick.check": str(bar),
            "pick.job": str(job),
            "limit": "9 mΩ",
            "voltmeter.accuracy": "7 %",
        }
        number, state = asked(client, shop, **picks)
        question = client.app.state.desk.question(number, state)  # type: ignore[attr-defined]
        assert question.limit.resistance == 3e-3
        assert question.limit.source == "the shop"
        assert question.bench.voltmeter.resolution == 1e-4
        assert (question.check.name, question.check.value) == ("shunt A", 0.01)
        assert state.job == job
        assert 'note = "bench voltmeter, up to 200 mV"' in state.question
        assert f'href="/cards/{job}">its job</a>' in page(client, f"/studies/{number}/bench")
        assert "Does cleaning help?" in page(client, f"/cards/{job}")


def test_a_standard_or_limit_that_says_less_fills_in_less() -> None:
    shop = new_shop()
    bar = standard(shop, uncertainty="")
    limit = open_card(shop, "limit", {"name": "plug", "resistance": "5 mΩ"}, BY, "l")
    with browsing(shop) as (client, _):
        picks = {"pick.check": str(bar), "pick.limit": str(limit), "check_value": "3 mΩ"}
        _, state = asked(client, shop, **picks)
        form = shop.form_of(state.question)
        assert (form.check_name, form.check_value, form.limit_source) == ("shunt A", "", "plug")


def test_a_card_put_away_meanwhile_is_told_beside_its_field() -> None:
    shop = new_shop()
    limit = open_card(shop, "limit", GIVEN["limit"], BY, "l")
    job = open_card(shop, "job", GIVEN["job"], BY, "j")
    with browsing(shop) as (client, _):
        put_away(shop, limit, "withdrawn", BY, "a")
        text = ask(client, 422, **ASKED, **{"pick.limit": str(limit), "pick.job": "77"})
        assert "a card that is not in use any more" in text
        assert "limit-fault" in text
        assert 'value="3" autocomplete="off" inputmode="numeric"' in text
        put_away(shop, job, "over", BY, "b")
        assert shop.records.count("study") == 0


def test_faults_keep_what_was_picked() -> None:
    shop = new_shop()
    meter = open_card(shop, "meter", METER, BY, "m")
    with browsing(shop) as (client, _):
        text = ask(client, 422, **(ASKED | {"question": "", "pick.voltmeter": f"{meter}.1"}))
        assert f'<option value="{meter}.1" selected>' in text
        assert values(text)["voltmeter.accuracy"] == "0.5 % + 2 counts"


def test_a_meter_typed_otherwise_is_not_called_so_any_more() -> None:
    shop = new_shop()
    meter = open_card(shop, "meter", METER, BY, "m")
    with browsing(shop) as (client, _):
        number, _state = asked(client, shop, **{"pick.voltmeter": f"{meter}.1"})
        where = f"/studies/{number}/question"
        text = page(client, where)
        assert breaches(text) == []
        assert "bench voltmeter, up to 2 V" in text
        same = {"voltmeter.accuracy": "0.5 % + 2 counts", "voltmeter.resolution": "1 mV", "reference": "new"}
        ask(client, 303, where, **ASKED, **same, change="form", reason="x")
        assert "note =" in fold(shop.records.lines(number)).question
        other = same | {"voltmeter.accuracy": "0.1 % + 2 counts"}
        ask(client, 303, where, **ASKED, **other, change="form", reason="x")
        assert "note =" not in fold(shop.records.lines(number)).question


def test_specimens_are_called_by_their_serials_and_linked() -> None:
    shop = new_shop()
    card = open_card(shop, "specimen", {"serial": "SN 001"}, BY, "s")
    with browsing(shop) as (client, _):
        names = "sn 001\nSN 002\n\nSN 003\n\n"
        number, state = asked(client, shop, names=names)
        assert {(row.condition, row.specimen) for row in state.sheet} == {
            ("new", "sn 001"),
            ("new", "SN 002"),
            ("cleaned", "SN 003"),
        }
        assert state.specimens == {"sn 001": card}
        assert "specimens = 2" in state.question
        for wrong, words in (("a\nb", "1 lists"), ("a\n\nA", "twice"), ("a\n\n" + "b" * 130, "at most 120")):
            text = ask(client, 422, **ASKED, names=wrong)
            assert words in text
            assert "names-fault" in text
        shared = {"assignment": "before and after", "names": "a\nb"}
        _, state = asked(client, shop, **shared)
        assert {row.specimen for row in state.sheet if row.condition == "cleaned"} == {"a", "b"}
        again = {"names": "SN 001\n\nc", "change": "sheet", "reason": "x", "reference": "new"}
        ask(client, 303, f"/studies/{number}/question", **ASKED, **again)
        state = fold(shop.records.lines(number))
        assert {row.specimen for row in state.sheet} == {"SN 001", "c"}
        assert state.specimens["SN 001"] == card


def test_how_many_fills_in_specimens_and_matings() -> None:
    shop = new_shop()
    with browsing(shop) as (client, _):
        text = ask(client, 200, **ASKED, **GUESSED, change="plan")
        assert "in 81 of 100 such studies a difference of 20 % is seen" in text
        assert (values(text)["specimens"], values(text)["matings"]) == ("11", "1")
        assert values(text)["plan.effect"] == "20 %"
        assert shop.records.count("study") == 0
        text = ask(
            client, 422, **ASKED, **(GUESSED | {"plan.specimen": "", "plan.effect": "x"}), change="plan"
        )
        assert values(text)["plan.effect"] == "x"
        assert "plan.effect-fault" in text
        text = ask(client, 422, **ASKED, **(GUESSED | {"plan.specimen": ""}), change="plan")
        assert "plan.specimen-fault" in text
        assert "--from" not in text


def test_a_plan_leans_on_past_studies_and_works_on_an_existing_one() -> None:
    shop = new_shop()
    with browsing(shop) as (client, _):
        number, _state = asked(client, shop)
        for specimen in range(3):
            for mating in range(2):
                text = f"{0.2 + 0.02 * specimen + 0.004 * mating:.4f}"
                for condition in ("new", "cleaned"):
                    take(
                        shop,
                        number,
                        *(
                            volts(f"{condition} {specimen}", sign + text, sign, condition, str(mating))
                            for sign in ("+", "-")
                        ),
                    )
        fields = ASKED | {"plan.effect": "30 %", "plan.reading": "2 %", "plan.past": str(number)}
        text = ask(client, 200, f"/studies/{number}/question", **fields, change="plan")
        assert "a difference of 30 % is seen" in text
        assert f'value="{number}" checked' in text
        text = ask(client, 422, **(fields | {"plan.past": "999"}), change="plan")
        assert "a study of the records" in text
        single = {"conditions": "new", "plan.goal": "limit", "limit": "3 mΩ", "limit_source": "us"}
        text = ask(client, 422, **(ASKED | GUESSED | single), change="plan")
        assert "plan.expected-fault" in text


def test_a_study_is_done_again_and_wanted_again() -> None:
    shop = new_shop()
    card = open_card(shop, "specimen", {"serial": "a"}, BY, "s")
    with browsing(shop) as (client, _):
        number, before = asked(client, shop, names="a\n\nb")
        where = f"/studies/{number}/question"
        beside = NewLine("f", FILE, {"name": "cables.toml", "media_type": "", "beside": True}, content=b"")
        shop.records.add(number, BY, [beside], study_face)
        text = ask(client, 422, where, change="retest", retest="2027-13-01")
        assert "retest-fault" in text
        ask(client, 303, where, change="retest", retest="2026-03-20", reason="yearly")
        assert "to be done again by 2026-03-20" in page(client, where)
        assert shop.records.card(number).face.due_for == "re-test"
        assert "re-test, 2026-03-20" in page(client, "/")
        ask(client, 303, where, change="close", reason="answered")
        assert "re-test, 2026-03-20" in page(client, "/")
        location = ask(client, 303, where, change="again")
        again = fold(shop.records.lines(int(location.split("/")[2])))
        assert (again.question, again.sheet) == (before.question, before.sheet)
        assert again.specimens == {"a": card}
        assert [one.name for one in again.files] == ["cables.toml"]
        assert (again.readings, again.closed, again.retest) == ((), False, None)
        old = fold(shop.records.lines(number))
        assert old.retest is None
        assert shop.records.card(number).face.due is None
        assert "re-test" not in page(client, "/")


def test_a_day_that_is_no_longer_wanted_is_taken_back() -> None:
    shop = replace(new_shop(), clock=lambda: START)
    number = study(shop)
    with browsing(shop) as (client, _):
        where = f"/studies/{number}/question"
        ask(client, 303, where, change="retest", retest="2026-03-20")
        ask(client, 303, where, change="retest", retest="")
        assert fold(shop.records.lines(number)).retest is None


def test_a_job_is_named_and_changed_on_the_question_page() -> None:
    shop = new_shop()
    job = open_card(shop, "job", GIVEN["job"], BY, "j")
    number = study(shop)
    with browsing(shop) as (client, _):
        where = f"/studies/{number}/question"
        ask(client, 303, where, change="job", job=str(job))
        assert fold(shop.records.lines(number)).job == job
        put_away(shop, job, "by mistake", BY, "p")
        assert f'<option value="{job}" selected>card no. {job}</option>' in page(client, where)
        ask(client, 303, where, change="job", job=str(job))  # it stays as it was
        assert "a card that is not in use any more" in ask(client, 422, where, change="job", job="55")
        ask(client, 303, where, change="job", job="")
        assert fold(shop.records.lines(number)).job is None
