"""The diary as data: a job's lines, or the shop's own; and the files kept with it."""

import datetime as dt
from pathlib import Path
from typing import Any

from coatbook.jobs.photos import content_of, photos_of
from coatbook.jobs.views import DiaryLine, diary, find_job
from coatbook.store.book import Book
from coatbook.values import Money, Refusal
from coatbook.values.quantity import plain


def line_rows(book: Book, job: int | None, on: dt.date, struck: bool) -> list[dict[str, Any]]:
    """The lines of a job's diary (None: the shop's own) with stable keys."""
    with book.read() as session:
        row = find_job(session, job).id if job is not None else None
        return [_row(line, book.currency) for line in diary(session, row, on, struck=struck)]


def _row(line: DiaryLine, currency: str) -> dict[str, Any]:
    return {
        "line": line.id,
        "date": line.on_day.isoformat(),
        "kind": line.kind,
        "step": line.step,
        "what": line.what,
        "quantity": plain(line.quantity.decimal()) if line.quantity else None,
        "unit": line.quantity.unit if line.quantity else None,
        "cost": str(Money(line.minor, currency)) if line.minor is not None else None,
        "struck": line.struck,
    }


def photo_rows(book: Book, job: int, on: dt.date) -> list[dict[str, Any]]:
    """The files kept with a job, with stable keys; `file` is what each is called when handed out."""
    with book.read() as session:
        found = photos_of(session, find_job(session, job).id, on)
    return [
        {
            "line": one.line,
            "date": one.on_day.isoformat(),
            "file": one.file_name,
            "name": one.name,
            "media": one.media,
            "bytes": one.size,
            "caption": one.caption,
        }
        for one in found
    ]


def hand_out_photos(book: Book, job: int, on: dt.date, folder: str) -> None:
    """Write the files kept with a job into a folder. Raises Refusal where one of that name lies there already."""
    place = Path(folder)
    with book.read() as session:
        found = photos_of(session, find_job(session, job).id, on)
        for one in found:
            if (place / one.file_name).exists():
                raise Refusal(f"{place / one.file_name} is there already: name another folder with --to")
        try:
            place.mkdir(parents=True, exist_ok=True)
            for one in found:
                (place / one.file_name).write_bytes(content_of(session, one))
        except OSError as problem:
            raise Refusal(f"cannot write into {folder!r}: {problem.strerror}") from None
