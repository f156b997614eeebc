"""Study folders on disk: TOML and CSV read strictly, new ones written."""

from ohmsworth.adapters.files.folder import load_study

__all__ = ["load_study"]
