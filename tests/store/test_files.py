"""A file that leaves the book is written whole, and over nothing that matters."""

import os
import sqlite3
import stat
from pathlib import Path

import pytest

from coatbook.store.files import write_file
from coatbook.values import Refusal

CONTENT = b"what is written\n"


def refused(path: Path, *, replace: bool = False) -> str:
    with pytest.raises(Refusal) as refusal:
        write_file(path, CONTENT, replace=replace)
    return str(refusal.value)


def test_a_new_file_is_written_in_a_new_folder(tmp_path: Path) -> None:
    path = tmp_path / "new" / "folder" / "file.txt"
    assert write_file(path, CONTENT) is True
    assert path.read_bytes() == CONTENT
    assert [one.name for one in path.parent.iterdir()] == ["file.txt"]


def test_the_same_bytes_stand_already(tmp_path: Path) -> None:
    path = tmp_path / "file.txt"
    write_file(path, CONTENT)
    before = path.stat()
    assert write_file(path, CONTENT) is False
    assert write_file(path, CONTENT, replace=True) is False
    assert path.stat().st_ino == before.st_ino


@pytest.mark.parametrize("other", [b"", b"what is Written\n", CONTENT + b"and more"])
def test_other_bytes_are_replaced_only_where_that_is_meant(tmp_path: Path, other: bytes) -> None:
    path = tmp_path / "file.txt"
    path.write_bytes(other)
    assert refused(path) == f"there is another file at {path} already: name another place"
    assert path.read_bytes() == other
    assert write_file(path, CONTENT, replace=True) is True
    assert path.read_bytes() == CONTENT


@pytest.mark.parametrize("replace", [False, True])
@pytest.mark.parametrize("linked", [False, True])
def test_what_is_no_plain_file_is_never_written_over(tmp_path: Path, replace: bool, linked: bool) -> None:
    folder, pipe, device = tmp_path / "folder", tmp_path / "pipe", Path(os.devnull)
    folder.mkdir()
    os.mkfifo(pipe)
    for place, word in ((folder, "is a folder"), (pipe, "no plain file"), (device, "no plain file")):
        path = place
        if linked:
            path = tmp_path / f"link to {place.name}"
            path.symlink_to(place)
        assert word in refused(path, replace=replace)
        assert path.is_symlink() is linked
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert device.is_char_device()


@pytest.mark.parametrize("replace", [False, True])
def test_a_link_that_leads_nowhere_is_left_alone(tmp_path: Path, replace: bool) -> None:
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "nowhere")
    assert "leads nowhere" in refused(link, replace=replace)
    assert link.is_symlink()


@pytest.mark.parametrize("replace", [False, True])
def test_a_book_is_never_written_over(book_path: Path, tmp_path: Path, replace: bool) -> None:
    link = tmp_path / "link"
    link.symlink_to(book_path)
    before = book_path.read_bytes()
    for path in (book_path, link):
        assert refused(path, replace=replace) == f"{path} is a database, and may be a book: name another place"
    assert book_path.read_bytes() == before
    other = tmp_path / "other.db"
    with sqlite3.connect(other) as connection:
        connection.execute("CREATE TABLE line (id)")
    connection.close()
    assert "is a database" in refused(other, replace=replace)


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(CONTENT)
    assert "name a folder you may write to" in refused(tmp_path / "file" / "inside.txt")
    assert "cannot write" in refused(tmp_path / ("x" * 300))
    assert [one.name for one in tmp_path.iterdir()] == ["file"]
