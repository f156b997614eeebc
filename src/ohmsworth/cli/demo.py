"""What ``demo`` prints and writes: the main job whole, and a sentence each of every other job of the shop beside it."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.plan import find_plan
from ohmsworth.cli.printing import answer, print_text, terminal_width, write_documents
from ohmsworth.report.answer import Answer
from ohmsworth.report.document import Block, Document, Paragraph, Section, Subheading
from ohmsworth.report.lot_pages import lot_report
from ohmsworth.report.meaning_pages import meaning_summary
from ohmsworth.wiring.paper_files import Verifying, verify_file
from ohmsworth.work.answer_takes import report_takes
from ohmsworth.work.cable_study import report_cable
from ohmsworth.work.capacitance.told import tell_capacitance
from ohmsworth.work.care.care_study import report_care
from ohmsworth.work.care.known_studies import report_known
from ohmsworth.work.lot_study import lot_study
from ohmsworth.work.meaning import explain
from ohmsworth.work.papers.printing import LABEL_SIZE, label_size, printed_label, printed_page
from ohmsworth.work.report_fitness import report_fitness
from ohmsworth.work.workshop.order import report_workshop

#: Digits of a resistance that is asked about elsewhere.
_DIGITS = 2
#: Seconds for the best cutting plan of each wire.
_SECONDS = 5.0
_INVENTED = "Everything is invented; the question and the readings of each are in the folder named."
#: A job by its heading: what was found, from where, and its pages.
_Told = tuple[str, str, Path, Document]


def demo(folder: Path) -> None:
    """Write the invented scenario's folders, answer them, and say where everything is."""
    study, earlier, lot = (folder / name for name in ("study", "earlier", "lot"))
    wiring.write_demo_study(study)
    wiring.write_demo_shop(folder / "bench", folder / "plan", lot, earlier)
    found = answer(study, False, folder / "report.html", folder / "report.pdf")
    blocks: list[Block] = []
    for title, sentence, place, report in (*_measured(folder, study), *_asked(folder, study)):
        (page,) = write_documents(report, place.with_suffix(".html"), None)
        blocks += [Subheading(title), Paragraph(f"{sentence} In pictures: {page}, from {place}.")]
    blocks += _elsewhere(folder, found)
    blocks += _records(folder, (earlier, study, lot))
    sections = (Section("Beside it", (*blocks, Paragraph(f"{_INVENTED} The study itself is in {study}."))),)
    print_text(wiring.as_text(Document("", "", "en", "", sections), terminal_width()))


def _measured(folder: Path, study: Path) -> tuple[_Told, ...]:
    """What was measured beside the main job, or is planned."""
    bench, plan, lot, takes, cable, wire = (
        folder / name for name in ("bench", "plan", "lot", "takes", "cable", "wire")
    )
    wiring.write_demo_takes(takes)
    wiring.write_demo_cable(cable)
    wiring.write_demo_capacitance(wire)
    told = report_fitness(wiring.load_bench(bench))
    planned = find_plan(plan, (study,), 1)
    judged = lot_study(wiring.load_lot(lot))
    heard = report_takes(wiring.load_takes(takes))
    tested = report_cable(wiring.load_cable(cable))
    broken = tell_capacitance(wiring.load_capacitance(wire))
    return (
        ("Is the bench fit? (ohmsworth fitness)", told.answer.sentence, bench, told.report),
        ("How many for the next hall? (ohmsworth plan)", planned.answer.sentence, plan, planned.report),
        ("Can the lot be sold? (ohmsworth lot)", judged.sentence, lot, lot_report(judged)),
        ("A dark contact over frequency (ohmsworth takes)", heard.answer.sentence, takes, heard.report),
        ("Is the built cable right? (ohmsworth cable)", tested.answer.sentence, cable, tested.report),
        ("Where is a wire broken? (ohmsworth capacitance)", broken.answer.sentence, wire, broken.report),
    )


def _asked(folder: Path, study: Path) -> tuple[_Told, ...]:
    """What the shop asks of what it has: a contact, all its studies, its stock."""
    care, known, workshop = (folder / name for name in ("care", "known", "workshop"))
    wiring.write_demo_care(care)
    advised = report_care(wiring.load_care(care), datetime.now(UTC).astimezone().date())
    studies = (*wiring.write_demo_known(known), study)
    together = report_known(wiring.load_studies(studies), "as found", "cleaned")
    order = report_workshop(wiring.load_workshop(*wiring.write_demo_order(workshop)), None, _SECONDS)
    return (
        ("What to do with a dark contact? (ohmsworth care)", advised.answer.sentence, care, advised.report),
        (
            "What do all studies know together? (ohmsworth known)",
            together.answer.sentence,
            known,
            together.report,
        ),
        ("What does an order need? (ohmsworth workshop)", order.answer.sentence, workshop, order.report),
    )


def _records(folder: Path, studies: tuple[Path, ...]) -> list[Block]:
    """A season of work in the shop's records, for the bench in the browser, and one of its certificates."""
    kept, key = folder / "shop.records", folder / "shop.key"
    today = datetime.now(UTC).astimezone().date()
    number = wiring.fill_demo_season(str(kept), key, studies, today)
    words = (
        f"{number} cards are in {kept}: a year of the shop's work, with its studies, specimens, meters, checks, jobs, and built "
        f"cables with their papers. 'ohmsworth bench --records {kept}' opens them in the browser."
    )
    return [
        *_certificate(folder, kept, key),
        Subheading("The shop's records (ohmsworth bench)"),
        Paragraph(words),
    ]


def _certificate(folder: Path, kept: Path, key: Path) -> list[Block]:
    """The certificate of one of the season's cables, drawn anew with its label, and verified as its customer would."""
    paper = wiring.demo_paper(str(kept))
    page, pdf, label = (folder / name for name in ("certificate.html", "certificate.pdf", "label.pdf"))
    size = label_size(LABEL_SIZE, "the label")
    files = [
        (folder / "certificate.json", paper.content),
        (page, printed_page(paper, "html", wiring.draw_page)),
        (pdf, printed_page(paper, "pdf", wiring.draw_page)),
        (label, printed_label(paper, size, "pdf", wiring.draw_label)[0]),
    ]
    wiring.write_files(files)
    public = key.with_name(f"{key.name}.pub")
    held = verify_file(Verifying(pdf, None, public if public.exists() else None, str(kept)))
    words = f"{paper.certificate.results.sentence} Its papers: {page}, {pdf} and the label {label}. Verified: {held.sentence}"
    return [Subheading("A cable's certificate (ohmsworth certify, ohmsworth verify)"), Paragraph(words)]


def _elsewhere(folder: Path, found: Answer) -> list[Block]:
    """What the best and the worst of the contacts found would do in every other circuit, with the ladder of all uses."""
    medians = sorted(condition.resistance for condition in found.conditions)
    told = explain(resistances=[float(f"{ohm:.{_DIGITS - 1}e}") for ohm in (medians[0], medians[-1])])
    pictures = [(folder / name, data) for name, data in wiring.as_pictures(meaning_summary(told))]
    wiring.write_files(pictures)
    title = "And in any other circuit? (ohmsworth meaning)"
    words = [told.sentence, f"On one scale: {pictures[0][0]}."]
    return [Subheading(title), Paragraph(" ".join(words))]
