"""The season put together: everything that was done, in the order of time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, time

from ohmsworth.adapters.simulated.records import invented_shop
from ohmsworth.adapters.simulated.season.built import cable_deeds
from ohmsworth.adapters.simulated.season.cards import HELPER, OWNER, card_deeds, ohmmeter_calibrated
from ohmsworth.adapters.simulated.season.checks import check_deeds
from ohmsworth.adapters.simulated.season.days import hall_day, moment
from ohmsworth.adapters.simulated.season.lists import list_deeds
from ohmsworth.adapters.simulated.season.visits import AGEING, VISITS
from ohmsworth.work.fill_season import Deed, InventedSeason, PaperIssued, StudyBegun, StudyRead
from ohmsworth.work.portable import StudyFolder
from ohmsworth.work.shop_settings import ShopSettings
from ohmsworth.work.study_form import MeterForm

_DONE = "answered, and handed over"
SETTINGS = ShopSettings(
    shop_name="The Cable Bench",
    shop_address="1 Mill Lane\nMillbrook",
    voltmeter=MeterForm("0.03 % + 5 counts", "0.1 µV"),
    ammeter=MeterForm("0.2 % + 3 counts", "10 µA"),
)


def invented_season(
    last: date,
    hall: tuple[StudyFolder, ...],
    visits: Mapping[str, StudyFolder],
    ageing: Mapping[str, tuple[StudyFolder, ...]],
) -> InventedSeason:
    """A year of work that ends on the day `last`.

    Parameters
    ----------
    last
        The last day.
    hall
        The folders of the concert hall, which have days of their own.
    visits
        The folder of each visit, by its name.
    ageing
        The folder of a job's connectors in use, after each visit to them, by the job's name.
    """
    deeds = [
        *card_deeds(last),
        *check_deeds(last, HELPER),
        *list_deeds(last, OWNER, HELPER),
        *cable_deeds(last, OWNER, HELPER, ohmmeter_calibrated(last)),
    ]
    read = datetime.combine(hall_day(last), time(17), UTC)
    deeds += [Deed(read, OWNER, StudyRead(folder, "job", _DONE)) for folder in hall]
    for visit in VISITS:
        closed = _DONE if visit.back > 30 else ""
        what = StudyRead(visits[visit.name], f"job {visit.name}", closed)
        deeds.append(Deed(moment(last, visit.back, 16), OWNER, what))
    for name, backs in AGEING.items():
        for back, folder in zip(backs, ageing[name], strict=True):
            deeds.append(Deed(moment(last, back, 14), HELPER, StudyRead(folder, f"job {name}")))
    lots = [folder for folder in hall if "[lot]" in folder.question]
    deeds += [Deed(moment(last, 4, 17), OWNER, PaperIssued(lot, "The owner", "")) for lot in lots]
    deeds.append(Deed(moment(last, 0, 11), OWNER, StudyBegun(replace(invented_shop(), by=OWNER))))
    return InventedSeason(OWNER, SETTINGS, tuple(sorted(deeds, key=lambda deed: deed.at)))
