"""Opening the browser, and what to say where there is none."""

from __future__ import annotations

import os
import sys
import webbrowser


def open_browser(address: str) -> bool:
    """Open `address`; False where no browser on a screen can be opened."""
    if not _has_screen():
        return False
    try:
        return webbrowser.open(address)
    except (webbrowser.Error, OSError):
        return False


def _has_screen() -> bool:
    """Without a screen a browser for the terminal would be opened, in the middle of what is printed there."""
    if os.environ.get("BROWSER") or sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
