"""What the workshop states beside its cables: reels in stock, prices and times."""

from ohmsworth.adapters.files.workshop.order import load_workshop
from ohmsworth.adapters.files.workshop.texts import prices_in, reels_csv, reels_in, text_of_file

__all__ = ["load_workshop", "prices_in", "reels_csv", "reels_in", "text_of_file"]
