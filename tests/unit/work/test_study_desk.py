"""Studies laid out for use: nothing that is held ready is older than the records."""

from tests.unit.work.bench_shop import FORM, BenchShop

from ohmsworth.work.make_study import make_study
from ohmsworth.work.study_cards import change_question


def test_an_answer_rests_on_the_past_studies_that_the_study_names() -> None:
    bench = BenchShop()
    later = make_study(bench.shop, FORM, "Ada", "the later study")
    text = f'history = ["study {bench.study}", "study 99", "elsewhere"]\n' + bench.desk.state(later).question
    change_question(bench.shop, later, text, "leans on it", "Ada", "leaning")
    before = bench.desk.stand(later, bench.desk.state(later))
    assert before == bench.desk.stand(later, bench.desk.state(later))
    bench.take(1)
    assert before != bench.desk.stand(later, bench.desk.state(later))
    own = bench.desk.stand(bench.study, bench.state)
    change_question(bench.shop, later, text + "\n", "a line more", "Ada", "longer")
    assert own == bench.desk.stand(bench.study, bench.state)


def test_of_each_thing_the_newest_is_held_ready() -> None:
    desk = BenchShop().desk
    looked = []

    def find(number: int) -> int:
        looked.append(number)
        return number

    for last in (1, 1, 2, 2, 3, 3):
        assert desk.once(("live", 1, last), lambda last=last: find(last)) == last
        assert desk.once(("live", 2, 0), lambda: find(0)) == 0
    assert looked == [1, 0, 2, 3]
    desk.once(("live", 1, 1), lambda: find(1))
    assert looked[-1] == 1
