"""What the shop has settled for all its benches: kept in the records, with everything that it was before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from pathlib import PurePosixPath, PureWindowsPath

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.document import Document
from ohmsworth.work.records import Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_form import MeterForm, StudyForm

#: How far ahead something is shown as due, in days.
AHEAD, MOST_AHEAD = 30, 366
METERS = ("voltmeter", "ammeter", "ohmmeter")
LONGEST = 400


@dataclass(frozen=True, slots=True)
class ShopSettings:
    """Every setting as text, blank where nothing is settled.

    Parameters
    ----------
    shop_name, shop_address
        For the foot of reports; the address may have lines.
    voltmeter, ammeter, ohmmeter
        What a new study begins with.
    days_ahead
        How far ahead something is shown as due.
    copies_folder
        Where the daily copies go; blank for beside the records.
    """

    shop_name: str = ""
    shop_address: str = ""
    voltmeter: MeterForm = field(default_factory=MeterForm)
    ammeter: MeterForm = field(default_factory=MeterForm)
    ohmmeter: MeterForm = field(default_factory=MeterForm)
    days_ahead: str = ""
    copies_folder: str = ""

    @property
    def ahead(self) -> int:
        """The days ahead as a number."""
        return int(self.days_ahead) if _is_number(self.days_ahead) else AHEAD


#: The words by which a setting is kept and shown, by its field.
WORDS: Mapping[str, str] = {
    "shop_name": "name of the shop",
    "shop_address": "address of the shop",
    **{f"{meter}.accuracy": f"accuracy of the {meter}" for meter in METERS},
    **{f"{meter}.resolution": f"one count of the {meter}" for meter in METERS},
    "days_ahead": "days ahead",
    "copies_folder": "folder of copies",
}


def as_texts(settings: ShopSettings) -> dict[str, str]:
    """Every setting by its field, in the order of `WORDS`."""
    texts: dict[str, str] = {}
    for one in fields(settings):
        value = getattr(settings, one.name)
        if isinstance(value, MeterForm):
            texts |= {
                f"{one.name}.accuracy": value.accuracy,
                f"{one.name}.resolution": value.resolution,
            }
        else:
            texts[one.name] = value
    return {name: texts[name] for name in WORDS}


def from_texts(texts: Mapping[str, str]) -> ShopSettings:
    """The settings of texts by field; what is not there is blank."""

    def text(name: str) -> str:
        return texts.get(name, "").strip()

    meters = {name: MeterForm(text(f"{name}.accuracy"), text(f"{name}.resolution")) for name in METERS}
    return ShopSettings(
        shop_name=text("shop_name"),
        shop_address="\n".join(line.strip() for line in text("shop_address").splitlines() if line.strip()),
        days_ahead=text("days_ahead"),
        copies_folder=text("copies_folder"),
        **meters,
    )


def read_settings(records: Records) -> ShopSettings:
    """The settings as last written."""
    kept = records.settings()
    return from_texts({name: kept[words] for name, words in WORDS.items() if words in kept})


def write_settings(shop: Shop, settings: ShopSettings, by: str) -> int:
    """Write what has changed, and return how many settings that are.

    Raises
    ------
    InputRefused
        With every field at fault, told by its name; nothing was written then.
    """
    settings = from_texts(as_texts(settings))
    faults = _faults(shop, settings)
    if faults:
        raise InputRefused(tuple(faults))
    before = as_texts(read_settings(shop.records))
    changed = {name: text for name, text in as_texts(settings).items() if text != before[name]}
    for name, text in changed.items():
        shop.records.write_setting(WORDS[name], text, by)
    return len(changed)


def with_default_meters(form: StudyForm, settings: ShopSettings) -> StudyForm:
    """A new study's form with the shop's meters in it."""
    return replace(form, voltmeter=settings.voltmeter, ammeter=settings.ammeter, ohmmeter=settings.ohmmeter)


def signed(document: Document, settings: ShopSettings) -> Document:
    """A report with the shop's name and address at its foot."""
    lines = [settings.shop_name, *settings.shop_address.splitlines()]
    shop = ", ".join(line.rstrip(",") for line in lines if line)
    return replace(document, footer=f"{shop}. {document.footer}") if shop else document


def _faults(shop: Shop, settings: ShopSettings) -> list[Fault]:
    faults = [
        Fault(name, f"{len(text)} characters", f"up to {LONGEST}", "Write it shorter.")
        for name, text in as_texts(settings).items()
        if len(text) > LONGEST
    ]
    if settings.days_ahead and not (
        _is_number(settings.days_ahead) and 1 <= int(settings.days_ahead) <= MOST_AHEAD
    ):
        expected = f"a whole number from 1 to {MOST_AHEAD}"
        mend = f"Write how many days, or leave it empty for {AHEAD}."
        faults.append(Fault("days_ahead", shorten(settings.days_ahead), expected, mend))
    folder = settings.copies_folder
    if folder and not (PurePosixPath(folder).is_absolute() or PureWindowsPath(folder).is_absolute()):
        mend = "Write the whole path, or leave it empty for beside the records."
        faults.append(Fault("copies_folder", shorten(folder), "a path from the root of a disk", mend))
    return faults + (_meter_faults(shop, settings) if not faults else [])


def _meter_faults(shop: Shop, settings: ShopSettings) -> list[Fault]:
    """What a study would find wrong with the meters."""
    form = with_default_meters(StudyForm(question="?", conditions=("new",)), settings)
    try:
        shop.read_question(shop.write_question(form), {})
    except InputRefused as refused:
        found = [(shop.field_of(fault) or "", fault) for fault in refused.faults]
        return [replace(fault, where=name) for name, fault in found if name.partition(".")[0] in METERS]
    return []


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 6
