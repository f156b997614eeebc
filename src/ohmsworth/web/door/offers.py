"""What a page may offer to whoever looks at it: asked of the table by which the door refuses."""

from __future__ import annotations

from fastapi import Request

from ohmsworth.web.door.roles import Needed, may, needed
from ohmsworth.work.accounts import ROLES, Role


class Offers:
    """Asked by a template before it shows a form, a button or a link; remembers what was left out, to say so once.

    Parameters
    ----------
    role
        What the caller may; None for whoever has not signed in.
    name
        Who the caller is, or "".
    """

    def __init__(self, role: Role | None, name: str) -> None:
        self.role = role
        self.name = name
        self._left_out: set[Needed] = set()
        self._said = False

    def change(self, address: str) -> bool:
        """Whether the caller may change something at `address`."""
        return self._asked("POST", address)

    def look(self, address: str) -> bool:
        """Whether the caller may look at `address`."""
        return self._asked("GET", address)

    def _asked(self, method: str, address: str) -> bool:
        what = needed(method, address.partition("?")[0])
        if may(self.role, what):
            return True
        self._left_out.add(what)
        return False

    def left_out(self) -> str:
        """Who may do what was left out so far, in a sentence; "" where nothing was, or where it is said already."""
        if self._said or not self._left_out or self.role is None:
            return ""
        self._said = True
        # What takes less comes first.
        several = sorted(self._left_out, key=lambda what: -len(_roles(what)))
        takes = ", and some of it ".join(f"the role {' or '.join(_roles(what))}" for what in several)
        return f"Not all that can be done here is shown: it takes {takes}. {self.name or 'This bench'} has the role {self.role}."


def _roles(what: Needed) -> tuple[Role, ...]:
    return tuple(role for role in ROLES if may(role, what))


def offers_to(request: Request) -> Offers:
    """What may be offered to whoever asks; on a bench without a door that is everything."""
    found = getattr(request.state, "caller", None)
    if found is None:
        return Offers("office" if request.app.state.door is None else None, "")
    return Offers(found.role, found.name)
