"""A disk of a megabyte."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def small_disk(folder: Path) -> Iterator[Path]:
    folder.mkdir()
    mount = shutil.which("mount")
    if os.getuid() != 0 or mount is None:
        pytest.skip("only root can mount a small disk")
    done = subprocess.run(
        [mount, "-t", "tmpfs", "-o", "size=1m", "tmpfs", folder], capture_output=True, text=True, check=False
    )
    if done.returncode:
        pytest.skip(f"no small disk can be mounted here: {done.stderr.strip()}")
    try:
        yield folder
    finally:
        subprocess.run(["umount", folder], check=True)
