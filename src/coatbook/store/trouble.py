"""What an error of the database means to the user: one sentence with what to do."""

from typing import Any

_DAMAGED = {11, 26}  # SQLITE_CORRUPT, SQLITE_NOTADB
_NOT_WRITABLE = {8, 14}  # SQLITE_READONLY, SQLITE_CANTOPEN
_FULL = 13  # SQLITE_FULL
_OUT_OF_RANGE = "22003"  # SQLSTATE numeric_value_out_of_range
_TOO_LARGE = "a number that was given is larger than a book can hold: check its digits"
_FAMILIES = ("sqlalchemy", "sqlite3", "psycopg")


def sentence_for(error: Exception) -> str | None:
    """One sentence for an error of the database; None if it is something else, and a bug."""
    if isinstance(error, OverflowError) and "SQLite" in str(error):  # no error of SQLite itself: it was never asked
        return _TOO_LARGE
    if not type(error).__module__.startswith(_FAMILIES):
        return None
    origin: Any = getattr(error, "orig", None) or error
    cause = (str(origin).splitlines() or [type(origin).__name__])[0]
    if "locked" in cause:
        return "another command is writing in this book: wait a moment and try again"
    if "coatbook:" in cause:  # a guard's own words
        return cause.partition("coatbook:")[2].strip()
    if getattr(error, "connection_invalidated", False):
        return f"the book's server hung up ({cause}): look what is written before you give the command again"
    if getattr(origin, "sqlstate", None) == _OUT_OF_RANGE:
        return _TOO_LARGE
    code = (getattr(origin, "sqlite_errorcode", None) or 0) & 0xFF
    if code in _DAMAGED:
        return (
            f"the book's file is damaged ({cause}): set it aside and go back to a backup that "
            "`coatbook book backup` made"
        )
    if code in _NOT_WRITABLE:
        return f"the book's file cannot be opened or written ({cause}): look at the rights of the file and its folder"
    if code == _FULL:
        return f"the book's disk is full ({cause}): make room and give the command again"
    return f"the book cannot be used ({cause}): look at it with `coatbook book check`, or go back to a backup"
