"""Files that leave the book, whole or not at all."""

import contextlib
import os
from pathlib import Path

from coatbook.values import Refusal


def write_file(path: Path, content: bytes, *, replace: bool = True) -> None:
    """Write a file in one step: a reader sees the old one or the new one, never half of it.

    Raises:
        Refusal: the folder cannot be written, or the file is there and is not to be replaced.
    """
    if not replace and path.exists():
        raise Refusal(f"there is a file at {path} already: name another")
    half = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with half.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        half.replace(path)
        _sync_folder(path.parent)
    except OSError as problem:
        with contextlib.suppress(OSError):  # it may never have been made
            half.unlink()
        raise Refusal(f"cannot write {path}: {problem.strerror}; name a folder you may write to") from None


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
