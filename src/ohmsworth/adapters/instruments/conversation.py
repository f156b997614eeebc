"""Question and answer over a line, such that an answer is never taken for that of another question.

A line is `in step` only between a whole answer and the next question. Whatever goes wrong in between leaves it out of
step, and the next question opens it anew first; then the instrument says who it is, and what arrives before that is late
and thrown away: a serial meter sends a late answer over a line that was opened again just as well.
"""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Callable, Iterator

from ohmsworth.adapters.instruments.lines import Line
from ohmsworth.errors import Fault, shorten
from ohmsworth.work.instruments import (
    BadAnswer,
    Complaint,
    InstrumentFault,
    LineLost,
    NoAnswer,
    OtherInstrument,
    Talk,
)

#: A longer answer is no reading.
LONGEST_ANSWER = 1000
#: Late lines thrown away before the instrument's name must have come.
_LATE_LINES = 50
#: Complaints of earlier users that are read and forgotten; no instrument keeps more.
_OLD_COMPLAINTS = 50


class Conversation:
    """An instrument to talk with; opened at the first question. One thread at a time, each call bounded in time.

    Parameters
    ----------
    where
        Name of the instrument and its address, for messages.
    talk
        How it is spoken to.
    opener
        Opens the line; raises OSError.
    """

    def __init__(self, where: str, talk: Talk, opener: Callable[[], Line]) -> None:
        self.where = where
        self.identification = ""
        self._talk = talk
        self._opener = opener
        self._line: Line | None = None
        self._in_step = False
        self._late = False
        self._closed = False
        self._buffer = b""
        # A signal may come while its own thread is in the middle of a question: that one must get in.
        self._lock = threading.RLock()

    def ask(self, query: str) -> str:
        """The answer to a question, without its end."""
        with self._turn() as line:
            if self._late and not self._talk.identify:
                self._wait_for_quiet(line)
            answer = self._exchange(line, query)
            self._late = False
            return answer

    def tell(self, *commands: str) -> None:
        """Send commands, then ask whether there is anything to complain about; without any, open the line where it is not."""
        with self._turn() as line:
            self._obey(line, commands)

    def order(self, command: str, question: str) -> str:
        """Send a command, and return the answer to the question that shows what became of it."""
        with self._turn() as line:
            self._send(line, command)
            return self._exchange(line, question)

    def shout(self, *commands: str) -> None:
        """Send commands in an emergency, whoever listens and whatever was under way; raises OSError when that is impossible."""
        with self._lock:
            self._drop()
            self._line = self._opener()
            for command in commands:
                self._send(self._line, command)

    def listen(self, skip_first: bool) -> str:
        """The next whole line of an instrument that sends by itself; `skip_first` drops one that may be cut off."""
        with self._turn() as line:
            deadline = self._deadline()
            if skip_first:
                self._read_line(line, deadline)
            return self._read_line(line, deadline)

    def close(self) -> None:
        """Let go of the line; the next question opens it again no more."""
        with self._lock:
            self._closed = True
            self._drop()

    @contextlib.contextmanager
    def _turn(self) -> Iterator[Line]:
        """The line, in step; left out of step unless everything inside goes well."""
        if not self._lock.acquire(timeout=4 * self._talk.timeout):
            mend = "Wait until the reading that is under way has ended, and try again."
            raise NoAnswer(Fault(self.where, "another question under way", "a free line", mend))
        try:
            line = self._ready()
            self._in_step = False
            try:
                yield line
            except OSError as error:
                self._drop()
                if isinstance(error, InstrumentFault):
                    raise
                raise self._lost(error) from error
            self._in_step = True
        finally:
            self._lock.release()

    def _ready(self) -> Line:
        if self._closed:
            mend = "Open it again."
            raise LineLost(Fault(self.where, "a line that was closed", "an open line", mend))
        if self._line is not None and self._in_step:
            try:
                self._buffer = b""
                self._line.discard()
            except OSError:
                self._drop()  # it was switched off meanwhile; it may be back
            else:
                return self._line
        if self._line is not None and not (self._talk.clear == "device clear" and self._cleared(self._line)):
            self._drop()
        return self._start()

    def _cleared(self, line: Line) -> bool:
        self._buffer = b""
        return line.clear()

    def _start(self) -> Line:
        """Open the line where it is not, and get into step."""
        again = bool(self.identification)
        try:
            if self._line is None:
                self._line = self._opener()
            self._line.discard()
            self._recognise(self._line, again)
            if self._talk.setup:
                self._forget_complaints(self._line)
                self._obey(self._line, self._talk.setup)
        except OSError as error:
            self._drop()
            if isinstance(error, InstrumentFault):
                raise
            raise self._lost(error) from error
        return self._line

    def _recognise(self, line: Line, again: bool) -> None:
        """Have the instrument say who it is; lines before that are late answers."""
        if not self._talk.identify:
            return
        deadline = self._deadline()
        self._send(line, self._talk.identify)
        found = ""
        for _ in range(_LATE_LINES):
            found = self._read_line(line, deadline)
            if found == self.identification if again else self._is_expected(found):
                self.identification = found
                return
            if (
                "," in found
            ):  # a name (IEEE 488.2, 10.14: four fields), but of another one; a late reading has no comma
                break
        expected = "an instrument that says who it is"
        if self.identification or self._talk.expected:
            expected = f"the one that calls itself {shorten(self.identification or self._talk.expected, 80)}"
        mend = "Check the address; if the instrument was changed on purpose, open it anew."
        raise OtherInstrument(Fault(self.where, f"one that says {shorten(found, 80)}", expected, mend))

    def _is_expected(self, found: str) -> bool:
        expected = self._talk.expected.casefold()
        return expected in found.casefold() if expected else "," in found

    def _forget_complaints(self, line: Line) -> None:
        """Read those of somebody before us, so that they are not taken for answers to our commands."""
        for _ in range(_OLD_COMPLAINTS):
            if not self._complaint(line):
                return

    def _obey(self, line: Line, commands: tuple[str, ...]) -> None:
        for command in commands:
            self._send(line, command)
        if commands and (told := self._complaint(line)):
            mend = "Compare the commands of the profile with the instrument's manual."
            raise Complaint(Fault(self.where, f"the complaint {shorten(told, 80)}", "no complaint", mend))

    def _complaint(self, line: Line) -> str:
        """The oldest complaint; empty when there is none."""
        if not self._talk.ask_error:
            return ""
        told = self._exchange(line, self._talk.ask_error)
        return "" if told.split(",")[0].strip() in ("0", "+0", "-0") else told

    def _wait_for_quiet(self, line: Line) -> None:
        """Throw away what still comes of earlier questions, from an instrument that cannot say who it is."""
        longest = time.monotonic() + 2 * self._talk.timeout
        while time.monotonic() < longest and line.read(min(self._deadline(), longest)):
            pass
        self._buffer = b""

    def _exchange(self, line: Line, query: str) -> str:
        self._send(line, query)
        return self._read_line(line, self._deadline())

    def _send(self, line: Line, text: str) -> None:
        line.write((text + self._talk.send_end).encode("ascii"))

    def _read_line(self, line: Line, deadline: float) -> str:
        """The next whole line; bytes without an end are kept back until it comes."""
        end = self._talk.answer_end.encode("ascii")
        while end not in self._buffer:
            if len(self._buffer) > LONGEST_ANSWER:
                raise self._nonsense(f"{len(self._buffer)} bytes without an end of line")
            data = line.read(deadline) if time.monotonic() < deadline else b""
            if not data:
                raise self._silence()
            self._buffer += data
        found, _, self._buffer = self._buffer.partition(end)
        try:
            text = found.decode("ascii").strip()
        except UnicodeDecodeError:
            raise self._nonsense("bytes that are no text") from None
        if len(text) > LONGEST_ANSWER or not text.isprintable():
            raise self._nonsense("bytes that are no text")
        return text

    def _silence(self) -> NoAnswer:
        self._late = True
        found = "no answer"
        if self._buffer:
            found = f"only {shorten(self._buffer.decode('ascii', 'replace'))}, without an end of line,"
        mend = (
            "Nothing was taken down. Check that it is switched on, the cable, and that its panel says it listens; then "
            "try again: the line is opened anew."
        )
        return NoAnswer(
            Fault(self.where, f"{found} within {self._talk.timeout:g} s", "one line in that time", mend)
        )

    def _nonsense(self, found: str) -> BadAnswer:
        mend = (
            "Nothing was taken down. Check baud rate, frame and ends of line in the profile; then try again."
        )
        return BadAnswer(Fault(self.where, found, "one line of text", mend))

    def _lost(self, error: OSError) -> LineLost:
        mend = (
            "Nothing was taken down, and what was read before is kept. Check that it is switched on, the cable and the "
            "address; then try again: the line is opened anew."
        )
        told = shorten(str(error) or type(error).__name__, 120)[1:-1]
        return LineLost(Fault(self.where, f"a line that cannot be used ({told})", "an open line", mend))

    def _drop(self) -> None:
        line, self._line = self._line, None
        self._in_step, self._buffer = False, b""
        if line is not None:
            with contextlib.suppress(OSError):
                line.close()

    def _deadline(self) -> float:
        return time.monotonic() + self._talk.timeout
