"""Files that leave the book, whole or not at all."""

import contextlib
import os
import stat
from pathlib import Path

from coatbook.values import Refusal

_DATABASE = b"SQLite format 3\0"


def write_file(path: Path, content: bytes, *, replace: bool = False) -> bool:
    """Write a file in one step: a reader sees nothing or all of it, never half.

    False if a file with these very bytes stands there already. What is no plain file is never written over, nor is
    a book; a file with other bytes only with `replace`.

    Raises:
        Refusal: something else stands there, or the folder cannot be written.
    """
    if os.path.lexists(path):
        if _stands(path, content):
            return False
        if not replace:
            raise Refusal(f"there is another file at {path} already: name another place")
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
    return True


def _stands(path: Path, content: bytes) -> bool:
    """Whether the plain file at `path`, or where a link there leads, holds these bytes.

    Raises:
        Refusal: it is a folder, a device or the like, a link that leads nowhere, or a database.
    """
    try:
        found = path.stat()
        if stat.S_ISDIR(found.st_mode):
            raise Refusal(f"{path} is a folder: name a file")
        if not stat.S_ISREG(found.st_mode):
            raise Refusal(f"{path} is a device or a pipe, no plain file: name another place")
        with path.open("rb") as file:
            if file.read(len(_DATABASE)) == _DATABASE:
                raise Refusal(f"{path} is a database, and may be a book: name another place")
        return found.st_size == len(content) and path.read_bytes() == content
    except FileNotFoundError:
        raise Refusal(f"{path} is a link that leads nowhere: name another place") from None
    except OSError as problem:
        raise Refusal(f"cannot read what stands at {path}: {problem.strerror}; name another place") from None


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
