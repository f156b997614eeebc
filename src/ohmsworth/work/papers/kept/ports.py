"""What papers in the records need from outside: the shop's key, and readers and writers of papers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, NoReturn

from ohmsworth.errors import OutputFault
from ohmsworth.work.paper_lines import NameFile

# For their names alone: the first page of the day does not wait for what they bring along.
if TYPE_CHECKING:
    from ohmsworth.report.papers.label import Label
    from ohmsworth.work.papers.kept.form import PaperForm
    from ohmsworth.work.papers.ports import FoundPaper, IssuePorts, VerifyPorts


@dataclass(frozen=True, slots=True)
class ShopKey:
    """The shop's key for signing.

    Parameters
    ----------
    place
        Path of the private key; "" on a bench that was not told where its records are.
    there
        Whether there is one.
    make
        Makes it, and returns the public key; raises OutputFault where there is one already.
    public_file
        The bytes of the public key's file; raises InputRefused where there is none.
    read_public
        The public key in the bytes of such a file; raises InputRefused.
    """

    place: str
    there: Callable[[], bool]
    make: Callable[[], bytes]
    public_file: Callable[[], bytes]
    read_public: Callable[[bytes], bytes]


@dataclass(frozen=True, slots=True)
class PaperReader:
    """What reads and verifies papers, without any key: `read` and `name_file` as those of `PaperPorts`."""

    read: Callable[[str, bytes], FoundPaper]
    verifying: Callable[[], VerifyPorts]
    name_file: NameFile


@dataclass(frozen=True, slots=True)
class PaperPorts:
    """What issues, reads, draws and verifies papers of cables and of lots.

    Parameters
    ----------
    key
        The shop's.
    issuing
        What issuing needs, with that key; raises InputRefused where there is none or it cannot be used.
    verifying
        What verifying and drawing needs.
    with_paper
        The text of a cable.toml or study.toml with a form's answers as its table [certificate].
    read
        The paper in a file of a name; raises InputRefused.
    draw_label
        A label of a size in mm as "pdf", "svg" or "png", and what is to be told about it.
    name_file
        Names the file of a paper by its number.
    """

    key: ShopKey
    issuing: Callable[[], IssuePorts]
    verifying: Callable[[], VerifyPorts]
    with_paper: Callable[[str, PaperForm], str]
    read: Callable[[str, bytes], FoundPaper]
    draw_label: Callable[[Label, float, float, str, datetime], tuple[bytes, str]]
    name_file: NameFile

    @property
    def reader(self) -> PaperReader:
        """What reads and verifies."""
        return PaperReader(self.read, self.verifying, self.name_file)


def _unmade(*_: object, **__: object) -> NoReturn:
    raise OutputFault("This bench was started without what makes papers. Start it with 'ohmsworth bench'.")


#: For a bench that issues no papers.
NO_PAPERS = PaperPorts(
    ShopKey("", lambda: False, _unmade, _unmade, _unmade), _unmade, _unmade, _unmade, _unmade, _unmade, _unmade
)  # fmt: skip
