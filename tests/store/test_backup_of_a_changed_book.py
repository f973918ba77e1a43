"""A backup is made of any book that can be copied, and says what a check finds in it."""

from collections.abc import Callable
from pathlib import Path

from store.raw import Raw

Command = Callable[..., tuple[int, str, str]]


def test_a_whole_book_is_copied_without_a_word_more(season_where: str, tmp_path: Path, command_on: Command) -> None:
    code, out, err = command_on(season_where, "book", "backup", tmp_path / "copy.db")
    assert (code, err) == (0, "")
    assert out.startswith(f"The backup is {tmp_path / 'copy.db'}; head of the chain ")


def test_a_changed_book_is_copied_and_its_owner_warned(
    season_where: str, raw: Raw, tmp_path: Path, command_on: Command
) -> None:
    raw.unguard("entry")
    raw.run("UPDATE entry SET minor = minor + 1 WHERE id = 4")
    copy = tmp_path / "copy.db"
    code, out, err = command_on(season_where, "book", "backup", copy)
    assert (code, out.startswith(f"The backup is {copy}; ")) == (0, True)
    assert err.startswith("note: what is in the backup is not as it was written (")
    assert "entry" in err
    assert err.endswith("Look at the book with `coatbook book check` before you rely on either.\n")
    assert command_on(copy, "book", "check")[0] == 1
    assert command_on(copy, "book", "info")[0] == 0
