"""What the workshop states beside its cables: reels in stock, prices and times."""

from ohmsworth.adapters.files.workshop.order import load_workshop

__all__ = ["load_workshop"]
