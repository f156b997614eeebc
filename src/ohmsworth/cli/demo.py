"""What ``demo`` prints and writes: the main job whole, and a sentence each of bench, plan, lot, takes and cable beside it."""

from __future__ import annotations

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.plan import find_plan
from ohmsworth.cli.printing import answer, print_text, terminal_width, write_documents
from ohmsworth.report.answer import Answer
from ohmsworth.report.document import Block, Document, Paragraph, Section, Subheading
from ohmsworth.report.lot_pages import lot_report
from ohmsworth.report.meaning_pages import meaning_summary
from ohmsworth.work.answer_takes import report_takes
from ohmsworth.work.cable_study import report_cable
from ohmsworth.work.lot_study import lot_study
from ohmsworth.work.meaning import explain
from ohmsworth.work.report_fitness import report_fitness

#: Digits of a resistance that is asked about elsewhere.
_DIGITS = 2
_INVENTED = "Everything is invented; the question and the readings of each are in the folder named."


def demo(folder: Path) -> None:
    """Write the invented scenario's folders, answer them, and say where everything is."""
    study, bench, plan, lot, earlier, takes, cable = (
        folder / name for name in ("study", "bench", "plan", "lot", "earlier", "takes", "cable")
    )
    wiring.write_demo_study(study)
    wiring.write_demo_takes(takes)
    wiring.write_demo_cable(cable)
    wiring.write_demo_shop(bench, plan, lot, earlier)
    found = answer(study, False, folder / "report.html", folder / "report.pdf")
    told = report_fitness(wiring.load_bench(bench))
    planned = find_plan(plan, (study,), 1)
    judged = lot_study(wiring.load_lot(lot))
    heard = report_takes(wiring.load_takes(takes))
    tested = report_cable(wiring.load_cable(cable))
    reports = (
        ("Is the bench fit? (ohmsworth fitness)", told.answer.sentence, bench, told.report),
        ("How many for the next hall? (ohmsworth plan)", planned.answer.sentence, plan, planned.report),
        ("Can the lot be sold? (ohmsworth lot)", judged.sentence, lot, lot_report(judged)),
        ("A dark contact over frequency (ohmsworth takes)", heard.answer.sentence, takes, heard.report),
        ("Is the built cable right? (ohmsworth cable)", tested.answer.sentence, cable, tested.report),
    )
    blocks: list[Block] = []
    for title, sentence, place, report in reports:
        (page,) = write_documents(report, place.with_suffix(".html"), None)
        blocks += [Subheading(title), Paragraph(f"{sentence} In pictures: {page}, from {place}.")]
    blocks += _elsewhere(folder, found)
    blocks += _records(folder, (earlier, study, lot), cable)
    sections = (Section("Beside it", (*blocks, Paragraph(f"{_INVENTED} The study itself is in {study}."))),)
    print_text(wiring.as_text(Document("", "", "en", "", sections), terminal_width()))


def _records(folder: Path, studies: tuple[Path, ...], cable: Path) -> list[Block]:
    """The shop's records, for the bench in the browser."""
    kept = folder / "shop.records"
    number = wiring.fill_demo_records(str(kept), studies, (cable,))
    words = (
        f"{number} cards are in {kept}: studies, specimens, meters, a check standard, a job, a built cable, and a study that is "
        f"being read. 'ohmsworth bench --records {kept}' opens them in the browser."
    )
    return [Subheading("The shop's records (ohmsworth bench)"), Paragraph(words)]


def _elsewhere(folder: Path, found: Answer) -> list[Block]:
    """What the best and the worst of the contacts found would do in every other circuit, with the ladder of all uses."""
    medians = sorted(condition.resistance for condition in found.conditions)
    told = explain(resistances=[float(f"{ohm:.{_DIGITS - 1}e}") for ohm in (medians[0], medians[-1])])
    pictures = [(folder / name, data) for name, data in wiring.as_pictures(meaning_summary(told))]
    wiring.write_files(pictures)
    title = "And in any other circuit? (ohmsworth meaning)"
    words = [told.sentence, f"On one scale: {pictures[0][0]}."]
    return [Subheading(title), Paragraph(" ".join(words))]
