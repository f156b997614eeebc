"""A closed study is kept as it is: its readings and its sheet are left alone until it is opened again."""

from __future__ import annotations

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.study_log import StudyState


def refuse_closed(state: StudyState) -> None:
    """Refuse what a closed study does not take.

    Raises
    ------
    InputRefused
        When the study is closed.
    """
    if state.closed:
        mend = "Open it again on its page 'Question', then do it once more."
        raise InputRefused((Fault("the study", "a closed study", "an open one", mend),))
