"""Writing files so that a half-written one never stands where a whole one is expected."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from ohmsworth.errors import OutputFault


def write_file(path: Path, data: bytes) -> None:
    """Write `data` to `path` (making its folder), replacing the file only once all is on disk.

    Raises
    ------
    OutputFault
        When the folder or file cannot be written.
    """
    try:
        path = Path(os.path.realpath(path))  # a link stays a link: the file that it names is replaced
        if path.is_symlink():
            raise OSError(0, "its links lead round in a circle")
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists() and not path.is_file():
            raise OSError(0, "it is a folder" if path.is_dir() else "it is a device, not a file")
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(temporary, 0o644)
            os.replace(temporary, path)
        except BaseException:
            os.unlink(temporary)
            raise
    except (OSError, ValueError) as error:  # ValueError: a name with a NUL in it
        reason = getattr(error, "strerror", None) or str(error)
        raise OutputFault(f"{path} cannot be written: {reason}. Choose another place, or free it.") from error
