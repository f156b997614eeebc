"""``python -m ohmsworth``."""

from ohmsworth.cli import main

main()
