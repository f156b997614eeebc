"""Recordings that were sent to be kept with a study: opened, known by their SHA-256, and refused where they are copies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_log import TakeFile
from ohmsworth.work.tone_files import KINDS, NEEDS, Kind, number_of

_AS_THE_CARD_SAYS = "Record it as the wiring card says, and send it too."


@dataclass(frozen=True, slots=True)
class Upload:
    """A file that was sent: what it is called where it comes from, and where it lies for the moment."""

    name: str
    path: Path


#: The files of each recording: one of two channels, or the two of a pair in the order of the inputs.
Uploads = Mapping[Kind, Sequence[Upload]]


@dataclass(frozen=True, slots=True, eq=False)
class Opened:
    """Recordings that can be read, and what the records keep of their files."""

    recordings: Mapping[Kind, Recording]
    files: Mapping[Kind, tuple[TakeFile, ...]]


def open_uploads(shop: Shop, state: StudyState, uploads: Uploads, channels: tuple[int, int] | None) -> Opened:
    """Open what was sent.

    Parameters
    ----------
    channels
        Numbers, from 1, of the channels that hold the inputs, where a file has more than two.

    Raises
    ------
    InputRefused
        When a recording is missing, none that can be read, or one that is kept already; with every fault.
    """
    sent = {kind: _in_order(uploads[kind]) for kind in KINDS if uploads.get(kind)}
    faults = [*_missing(uploads, sent)]
    recordings: dict[Kind, Recording] = {}
    files: dict[Kind, tuple[TakeFile, ...]] = {}
    for kind, ones in sent.items():
        try:
            found = shop.open_recording([one.path for one in ones], channels if len(ones) == 1 else None)
            recordings[kind] = replace(found, name=" and ".join(one.name for one in ones))
            files[kind] = tuple(TakeFile(one.name, shop.sha256_of(one.path)) for one in ones)
        except InputRefused as refused:
            faults += as_sent(refused, sent).faults
        except OSError as error:
            found_there = error.strerror or "a file that cannot be read"
            names = " and ".join(one.name for one in ones)
            faults.append(Fault(names, found_there, "a file that can be read", "Send it again."))
    faults += _copies(state, files)
    if faults:
        raise InputRefused(tuple(faults))
    return Opened(recordings, files)


def as_sent(refused: InputRefused, uploads: Uploads) -> InputRefused:
    """The same refusal, with files called as where they come from."""
    names = {one.path.name: one.name for ones in uploads.values() for one in ones}

    def called(text: str) -> str:
        for path, name in names.items():
            text = text.replace(path, name)
        return text

    return InputRefused(
        tuple(Fault(called(f.where), called(f.found), called(f.expected), f.mend) for f in refused.faults)
    )


def refuse_copies(state: StudyState, files: Mapping[Kind, tuple[TakeFile, ...]], what: str) -> None:
    """Refuse to count takes again whose recordings count elsewhere meanwhile.

    Raises
    ------
    InputRefused
        With every such recording; `what` says in words which takes are meant.
    """
    faults = _copies(state, files)
    if faults:
        mend = f"Leave {what} withdrawn, or withdraw the other first."
        raise InputRefused(tuple(replace(fault, mend=mend) for fault in faults))


def _in_order(ones: Sequence[Upload]) -> tuple[Upload, ...]:
    """By the number that a recorder writes at the end of the name of each of a pair."""
    return tuple(sorted(ones, key=lambda one: number_of(one.name)))


def _missing(uploads: Uploads, sent: Uploads) -> list[Fault]:
    """Recordings that others are of no use without, and such as are no kind of recording."""
    strange = [name for name in uploads if name not in KINDS]
    faults = [
        Fault("recordings", shorten(name), f"one of {', '.join(KINDS)}", "Choose how it was connected.")
        for name in strange
    ]
    needed: tuple[Kind, ...] = ("straight", *(NEEDS[kind] for kind in sent))
    faults += [
        Fault(
            kind,
            "no such recording",
            "the recording that the others are of no use without",
            _AS_THE_CARD_SAYS,
        )
        for kind in dict.fromkeys(needed)
        if kind not in sent
    ]
    return faults


def _copies(state: StudyState, files: Mapping[Kind, tuple[TakeFile, ...]]) -> list[Fault]:
    """Recordings that are kept already, or were sent twice: no two are alike to the last sample."""
    kept = kept_recordings(state)
    faults = []
    seen: dict[str, str] = {}
    for one in (one for ones in files.values() for one in ones):
        known = kept.get(one.sha256) or seen.get(one.sha256)
        if known is not None:
            mend = "One of the two was chosen by mistake: send the recording that belongs here."
            found = f"the very same recording as {known}"
            faults.append(Fault(one.name, found, "a recording of its own", mend))
        seen.setdefault(one.sha256, one.name)
    return faults


def kept_recordings(state: StudyState) -> dict[str, str]:
    """By SHA-256 which recordings count already, in words; those that were withdrawn may be sent anew."""
    found: dict[str, str] = {}
    for take in state.counted_takes:
        entry = take.reading.entry
        words = f"of take {take.reading.nth} ({entry.specimen})"
        found |= {one.sha256: f"{one.name} {words}" for ones in take.files.values() for one in ones}
    for standard in state.standards:
        if standard.state == "used":
            files = (one for ones in standard.files.values() for one in ones)
            found |= {one.sha256: f"{one.name} of the {standard.series}" for one in files}
    return found
