"""Study folders on disk: TOML and CSV read strictly, new ones and reports written."""

from ohmsworth.adapters.files.folder import load_study
from ohmsworth.adapters.files.template import write_new_study
from ohmsworth.adapters.files.writing import write_file

__all__ = ["load_study", "write_file", "write_new_study"]
