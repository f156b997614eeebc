"""The lines of a Touchstone text: what its head says, and its rows of numbers, with every bad line reported."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from ohmsworth.errors import Fault, nearest_name, shorten
from ohmsworth.units import LARGEST

FREQUENCY_UNITS = {"hz": 1.0, "khz": 1e3, "mhz": 1e6, "ghz": 1e9}
PARAMETERS = ("s", "y", "z")
FORMS = ("ri", "ma", "db")
VERSIONS = ("2.0", "2.1")
#: Keywords that open a part of the file, which runs to the next of them.
_PARTS = {
    "network data": "network",
    "noise data": "noise",
    "begin information": "information",
    "end": "end",
}
_KEYWORDS = (
    "version", "number of ports", "two-port data order", "number of frequencies", "number of noise frequencies",
    "reference", "matrix format", *_PARTS,
)  # fmt: skip
_NUMBER = re.compile(r"[+-]?(?:[0-9]{1,30}(?:\.[0-9]{0,30})?|\.[0-9]{1,30})(?:[eE][+-]?[0-9]{1,3})?")
_KEYWORD = re.compile(r"\[([^\]]{0,80})\](.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Row:
    """The numbers of one line; NaN where one is at fault."""

    line: int
    numbers: tuple[float, ...]


@dataclass(slots=True)
class Head:
    """What a file says of its numbers; what stands here is what holds where it says nothing."""

    version: str = "1.0"
    unit: str = "ghz"
    parameter: str = "s"
    form: str = "ma"
    references: tuple[float, ...] = (50.0,)
    options: int | None = None
    ports: int | None = None
    order: str | None = None
    announced: tuple[int, int] | None = None
    seen: dict[str, int] = field(default_factory=dict)

    @property
    def keywords(self) -> bool:
        """Whether the file is of a version that has keywords in brackets."""
        return self.version >= "2"


class Lines:
    """A Touchstone text being read line by line; `faults` and `notes` gather."""

    def __init__(self, text: str, name: str) -> None:
        self.name = name
        self.head = Head()
        self.rows: list[Row] = []
        self.noise = 0
        self.faults: list[Fault] = []
        self.notes: list[str] = []
        self._place = "head"
        self._references_open = False
        for number, raw in enumerate(re.split(r"\r\n|\r|\n", text.rstrip("\x1a")), 1):
            body, _, remark = raw.partition("!")
            if "port impedance" in remark.lower() and not any("port impedance" in n for n in self.notes):
                self.notes.append(
                    f"line {number}: a remark tells of a port impedance; the option line is what counts"
                )
            if body.strip():
                self._line(number, body.strip())
        self._complete()

    def fault(self, line: int, found: str, expected: str, mend: str) -> None:
        """Note a fault in `line`."""
        self.faults.append(Fault(f"{self.name}, line {line}", found, expected, mend))

    def _line(self, number: int, body: str) -> None:
        if self._place == "over":
            return
        if self._place == "end":
            self.fault(number, shorten(body), "nothing behind [End]", "Remove what follows, or move [End].")
            self._place = "over"  # told once
        elif self._place == "information":
            self._place = "head" if body.lower().startswith("[end information]") else "information"
        elif body[0] == "#":
            self._options(number, body[1:].lower().split())
        elif body[0] == "[":
            self._keyword(number, body)
        else:
            self._numbers(number, body)

    def _options(self, number: int, words: list[str]) -> None:
        if self.head.options is not None:
            self.notes.append(f"line {number}: a second option line does not count")
            return
        self.head.options = number
        if self.rows:
            mend = "Move the line that begins with # to where the numbers begin."
            self.fault(number, "an option line behind numbers", "it above them", mend)
        given: dict[str, str] = {}
        while words:
            word = words.pop(0)
            kind = _kind(word)
            values: list[str] = []
            while kind == "reference" and words and _NUMBER.fullmatch(words[0]):
                values.append(words.pop(0))
            if kind is None:
                self._unknown_option(number, word)
            elif kind in given:
                found = f"{given[kind].upper()} and {word.upper()}"
                self.fault(number, found, f"one {kind}", "Remove the one that is wrong.")
            elif kind == "reference":
                self._references(number, values)
            given[kind or ""] = word
        self.head.unit = given.get("unit of frequency", self.head.unit)
        self.head.parameter = given.get("kind of parameters", self.head.parameter)
        self.head.form = given.get("form of numbers", self.head.form)

    def _unknown_option(self, number: int, word: str) -> None:
        if word in ("h", "g"):
            found = f"{word.upper()} parameters"
            self.fault(number, found, "S, Y or Z", "Save the file again as S parameters.")
            return
        expected = "Hz, kHz, MHz or GHz; S, Y or Z; RI, MA or DB; R with a resistance in ohm"
        near = nearest_name(word, (*FREQUENCY_UNITS, *FORMS))
        mend = f"Did you mean {near.upper()}?" if near else "Write these alone behind the #."
        self.fault(number, shorten(word), expected, mend)

    def _references(self, number: int, words: list[str]) -> None:
        if not words:
            mend = "Write R 50, or whatever resistance S was measured against."
            self.fault(number, "R without a number", "the reference resistance in ohm", mend)
            return
        values = tuple(self._number(number, word) for word in words)
        if any(value <= 0 for value in values):
            mend = "Write the resistance, such as 50."
            self.fault(number, shorten(" ".join(words)), "a reference above zero ohm", mend)
            return
        self.head.references = values

    def _keyword(self, number: int, body: str) -> None:
        match = _KEYWORD.fullmatch(body)
        name = " ".join(match[1].lower().split()) if match else ""
        value = match[2].strip() if match else ""
        if name not in _KEYWORDS:
            self._unknown_keyword(number, body if match is None else f"[{match[1]}]", name)
            return
        if name in self.head.seen:
            first = self.head.seen[name]
            self.fault(number, f"[{name}] again", f"it once, in line {first}", "Remove one of the two.")
            return
        self.head.seen[name] = number
        self._references_open = False
        if name != "version" and not self.head.keywords and "version" not in self.head.seen:
            mend = "Write [Version] 2.0 above it, or remove what stands in brackets."
            self.fault(number, f"[{name}]", "[Version] 2.0 first", mend)
            self.head.version, self.head.seen["version"] = "2.0", number  # told once
        if name in _PARTS:
            if value:
                self.fault(number, shorten(value), "nothing behind this keyword", "Start a new line.")
            self._place = _PARTS[name]
        else:
            getattr(self, "_" + name.replace(" ", "_").replace("-", "_"))(number, value)

    def _unknown_keyword(self, number: int, found: str, name: str) -> None:
        near = nearest_name(name, _KEYWORDS) if name else None
        mend = f"Did you mean [{near}]?" if near else "Save it again as a version 1 file of one or two ports."
        if name == "mixed-mode order":
            mend = "Save it again with every port by itself."
        self.fault(number, shorten(found), "a keyword of a file with one or two ports", mend)

    def _version(self, number: int, value: str) -> None:
        if self.head.options is not None or self.rows or len(self.head.seen) > 1:
            self.fault(number, "[Version] further down", "it above everything else", "Move it to the top.")
        if value not in VERSIONS:
            self.fault(number, shorten(value) if value else "no version", "[Version] 2.0", "Correct it.")
            value = "2.0"
        self.head.version = value

    def _number_of_ports(self, number: int, value: str) -> None:
        self.head.ports = self._whole(number, value, "1 or 2")

    def _two_port_data_order(self, number: int, value: str) -> None:
        if value not in ("12_21", "21_12"):
            mend = "Write the order in which the numbers of S12 and S21 stand."
            self.fault(number, shorten(value) if value else "no order", "12_21 or 21_12", mend)
            value = "12_21"
        self.head.order = value

    def _number_of_frequencies(self, number: int, value: str) -> None:
        count = self._whole(number, value, "how many frequencies follow")
        self.head.announced = (count, number) if count else None

    def _number_of_noise_frequencies(self, number: int, value: str) -> None:
        self._whole(number, value, "how many noise frequencies follow")

    def _reference(self, number: int, value: str) -> None:
        self.head.references = ()
        self._references_open = True
        if value:
            self._more_references(number, value)

    def _more_references(self, number: int, value: str) -> None:
        before = self.head.references
        self.head.references = ()
        self._references(number, value.split())
        self.head.references = before + self.head.references

    def _matrix_format(self, number: int, value: str) -> None:
        if value.lower() != "full":
            mend = "Save it again with all numbers of every frequency."
            self.fault(number, shorten(value) if value else "no format", "[Matrix Format] Full", mend)

    def _numbers(self, number: int, body: str) -> None:
        if self._references_open:
            self._more_references(number, body)
            return
        if self._place == "noise":
            self.noise += 1
            return
        if self.head.keywords and self._place == "head":
            mend = "Write [Network Data] on the line above the numbers."
            self.fault(number, shorten(body), "[Network Data] before the first number", mend)
            self._place = "network"
            self.head.seen["network data"] = number  # told once
        self.rows.append(Row(number, tuple(self._number(number, word) for word in body.split())))

    def _number(self, line: int, word: str) -> float:
        """The number that `word` is; a fault, and NaN, where it is none."""
        if not _NUMBER.fullmatch(word):
            mend = "Write numbers with a decimal point, blanks between them, and remarks behind a !."
            self.fault(line, shorten(word), "a number", mend)
            return float("nan")
        if not abs(float(word)) <= LARGEST:
            self.fault(line, shorten(word), f"a size up to {LARGEST:g}", "Check the exponent.")
            return float("nan")
        return float(word)

    def _whole(self, line: int, value: str, expected: str) -> int | None:
        if not re.fullmatch("[1-9][0-9]{0,8}", value):
            self.fault(line, shorten(value) if value else "nothing", expected, "Write a whole number.")
            return None
        return int(value)

    def _complete(self) -> None:
        """Note what a file with keywords lacks, and a missing option line."""
        head, last = self.head, max(self.head.seen.values(), default=1)
        if head.options is None and self.rows:
            self.notes.append(
                "no option line: taken as GHz, S parameters, magnitude and angle, against 50 ohm"
            )
        if not head.keywords:
            return
        needed = {"number of ports", "number of frequencies", "network data"}
        needed |= {"two-port data order"} if head.ports == 2 else set()
        for name in _KEYWORDS:
            if name in needed - set(head.seen):
                mend = "Add it: without it the numbers can be read in more than one way."
                self.fault(last, f"no [{name}]", f"[{name}] in a file of version {head.version}", mend)


def _kind(word: str) -> str | None:
    """What a word of the option line says."""
    if word in FREQUENCY_UNITS:
        return "unit of frequency"
    if word in PARAMETERS:
        return "kind of parameters"
    if word in FORMS:
        return "form of numbers"
    return "reference" if word == "r" else None
