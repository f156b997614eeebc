"""A line that is broken off in the middle, by a signal or by a mistake, is opened anew."""

import threading
from collections import deque

import pytest

from ohmsworth.adapters.instruments.conversation import Conversation
from ohmsworth.work.instruments import LineLost, NoAnswer, Talk

TALK = Talk(timeout=0.3, identify="", ask_error="")


class PaperLine:
    """Answers each question with itself; `happens` are called in the middle of the first answers."""

    def __init__(self, happens: deque) -> None:
        self.happens = happens
        self.sent: list[bytes] = []
        self.waiting: deque[bytes] = deque()
        self.closed = False

    def write(self, data: bytes) -> None:
        if self.closed:
            raise OSError("closed")
        self.sent.append(data)
        if b"?" in data:
            self.waiting.append(data)

    def read(self, deadline: float) -> bytes:
        if self.happens:
            self.happens.popleft()()
        if self.closed:
            raise OSError("closed")
        return self.waiting.popleft() if self.waiting else b""

    def discard(self) -> None:
        pass

    def clear(self) -> bool:
        return False

    def close(self) -> None:
        self.closed = True


def conversation(*happens) -> tuple[Conversation, list[PaperLine]]:
    lines: list[PaperLine] = []
    waiting = deque(happens)

    def opened() -> PaperLine:
        lines.append(PaperLine(waiting))
        return lines[-1]

    return Conversation("here", TALK, opened), lines


def raises(error: BaseException):
    def happen() -> None:
        raise error

    return happen


@pytest.mark.parametrize("error", [KeyboardInterrupt(), ValueError("a mistake"), OSError("broken")])
def test_what_breaks_off_a_question_leaves_no_answer_behind(error: BaseException) -> None:
    talk, lines = conversation(lambda: None, raises(error))
    assert talk.ask("zeroth?") == "zeroth?"
    with pytest.raises((KeyboardInterrupt, ValueError, LineLost)):
        talk.ask("first?")
    assert talk.ask("second?") == "second?"
    assert len(lines) == 2
    assert lines[0].closed


def test_a_signal_in_the_middle_of_a_question_gets_its_own_through() -> None:
    heard: list[str] = []
    talk, lines = conversation(lambda: heard.append(talk.order("OUTPut OFF", "OUTPut?")))
    with pytest.raises(LineLost):
        talk.ask("reading?")  # what was under way is lost, and said to be
    assert heard == ["OUTPut?"]
    assert lines[1].sent == [b"OUTPut OFF\n", b"OUTPut?\n"]
    assert talk.ask("next?") == "next?"


def test_a_question_of_another_thread_is_waited_for_and_not_for_ever() -> None:
    begun, go_on = threading.Event(), threading.Event()

    def happen() -> None:
        begun.set()
        go_on.wait(10)

    talk, _ = conversation(happen)
    thread = threading.Thread(target=talk.ask, args=("slow?",))
    thread.start()
    assert begun.wait(10)
    with pytest.raises(NoAnswer, match="under way"):
        talk.ask("impatient?")
    go_on.set()
    thread.join(10)
    assert talk.ask("later?") == "later?"


def test_text_that_no_line_can_carry_leaves_the_line_usable() -> None:
    talk, _ = conversation()
    with pytest.raises(UnicodeEncodeError):
        talk.ask("Ω?")
    assert talk.ask("next?") == "next?"
