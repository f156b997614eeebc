"""The takes of short, load and open in a study's folder: recordings, or what they told where the sound is no longer there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.takes_folder import no_recording
from ohmsworth.adapters.files.takes_kept import FILE as KEPT
from ohmsworth.adapters.files.takes_kept import KeptStandard, KeptTakes, sha_of
from ohmsworth.adapters.files.tones_folder import names_in
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.work.contact_takes import standards_of
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.recordings import OpenRecording
from ohmsworth.work.take_log import Files, TakeFile
from ohmsworth.work.take_told import digest_of, told_of
from ohmsworth.work.tone_files import PLAN, STEMS, Kind, Series, recordings_among


@dataclass(frozen=True, slots=True, eq=False)
class FolderStandards:
    """Takes of short, load and open.

    Parameters
    ----------
    opened
        The recordings in the folder, nothing of their sound read yet.
    files
        Their files, by what was in the contact's place.
    kept
        What the others told, whose recordings are not there.
    """

    opened: Mapping[tuple[Series, Kind], Recording]
    files: Mapping[Series, Files]
    kept: Mapping[Series, KeptStandard]

    @property
    def digests(self) -> dict[Series, str]:
        """What each is known by."""
        return {
            **{series: digest_of(files) for series, files in self.files.items()},
            **{series: one.digest for series, one in self.kept.items()},
        }

    def told(self, loaded: LoadedTakes, before: KeptTakes, basis: str) -> dict[Series, KeptStandard]:
        """What each told: those in the folder are analysed where nothing of them was kept `before` on this `basis`.

        Raises
        ------
        InputRefused
            With the faults of all their recordings.
        """
        digests = {series: digest_of(files) for series, files in self.files.items()}
        known = {
            series: one
            for series, one in before.standards.items()
            if one.basis == basis and one.digest == digests.get(series)
        }
        if known.keys() == digests.keys():
            return {**self.kept, **known}
        curves = standards_of(loaded, {series: one.curve for series, one in self.kept.items()})
        days = self.days(before)
        made = {
            series: KeptStandard(digests[series], told_of(curves[series]), basis, days[series])
            for series in digests
        }
        return {**self.kept, **made}

    def days(self, before: KeptTakes) -> dict[Series, str]:
        """When the takes of each were kept, where what was kept `before` says so of the very same recordings; else ""."""
        found = before.standards
        return {
            series: found[series].at if series in found and found[series].digest == digest else ""
            for series, digest in self.digests.items()
        }


def standards_in(
    folder: Path,
    channels: tuple[int, int] | None,
    kept: KeptTakes,
    frequency: np.ndarray,
    open_recording: OpenRecording,
) -> tuple[FolderStandards, list[Fault]]:
    """Find them, and open those that are recordings; `frequency` are the plan's tones, which kept ones must have."""
    files: dict[Series, dict[Kind, tuple[TakeFile, ...]]] = {}
    opened: dict[tuple[Series, Kind], Recording] = {}
    faults: list[Fault] = []
    for stem, names in recordings_among(names_in(folder)).items():
        series, kind = STEMS[stem]
        if series == "contact":
            continue
        wrong = no_recording(stem, names)
        if wrong is not None:
            faults.append(wrong)
            continue
        paths = tuple(folder / name for name in names)
        try:
            hashed = tuple(TakeFile(name, sha_of(folder / name)) for name in names)
            opened[series, kind] = open_recording(paths, channels if len(paths) == 1 else None)
        except OSError as error:
            faults.append(unreadable(stem, error))
        except InputRefused as refused:
            faults += refused.faults
        else:
            files.setdefault(series, {})[kind] = hashed
    there = {STEMS[stem][0] for stem in recordings_among(names_in(folder))}
    gone = {series: one for series, one in kept.standards.items() if series not in there}
    for series, one in gone.items():
        if not np.array_equal(one.curve.frequency, frequency):
            mend = f"Put back the {PLAN} that it was recorded with, or record the {series} with this one."
            faults.append(Fault(f"{KEPT}, {series}", "takes of other tones", f"the tones of {PLAN}", mend))
    return FolderStandards(opened, files, gone), faults


def unreadable(name: str, error: OSError) -> Fault:
    """A file that the system does not give."""
    mend = "Check the file and its permissions."
    found = error.strerror or "a file that cannot be read"
    return Fault(str(error.filename or name), found, "a file that can be read", mend)
