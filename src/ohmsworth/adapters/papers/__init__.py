"""Keys that sign certificates, and certificates read from their files."""

from ohmsworth.adapters.papers.keys import (
    fits,
    load_public_key,
    load_signer,
    make_key,
    public_key_file,
    read_public_key,
)
from ohmsworth.adapters.papers.reading import read_paper_file

__all__ = [
    "fits",
    "load_public_key",
    "load_signer",
    "make_key",
    "public_key_file",
    "read_paper_file",
    "read_public_key",
]
