"""Photos and papers kept with a job's diary, byte for byte: what a file is, its content says, not its name."""

import datetime as dt
import hashlib
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coatbook.jobs.standing import any_job
from coatbook.jobs.tables import Attachment, Entry
from coatbook.store.acts import OpenAct
from coatbook.store.live import live
from coatbook.values import Refusal, text

LARGEST = 10_000_000  # bytes
_BEGINS = {b"\x89PNG\r\n\x1a\n": "image/png", b"\xff\xd8\xff": "image/jpeg", b"%PDF-": "application/pdf"}
_ENDINGS = {"image/png": ".png", "image/jpeg": ".jpg", "application/pdf": ".pdf"}


@dataclass(frozen=True, slots=True)
class Photo:
    """A file kept with a line of the diary; `id` is the row, `size` in bytes."""

    id: int
    line: int
    on_day: dt.date
    caption: str
    name: str
    media: str
    size: int

    @property
    def file_name(self) -> str:
        """A name of its own for a folder: line, and an ending that tells what it is."""
        return f"line-{self.line}{_ENDINGS[self.media]}"


def log_photo(act: OpenAct, *, job: int, name: str, content: bytes, caption: str) -> int:
    """Keep a photo (PNG, JPEG) or a paper (PDF) of a job, with a caption; `name` is what the file was called."""
    found = any_job(act, job)
    called = text.line(name, "name of the file")
    media = media_of(content, called)
    sha256 = hashlib.sha256(content).hexdigest()
    kept = act.session.scalars(
        select(Attachment.entry)
        .join(Entry, Entry.id == Attachment.entry)
        .where(Entry.job == found.id, Attachment.sha256 == sha256, Attachment.struck_on.is_(None))
    ).first()
    if kept is not None:
        raise Refusal(f"the same file is kept with job {job} as line {kept} already: nothing was written")
    entry = act.add(Entry(job=found.id, kind="photo", text=text.line(caption, "caption")))
    act.add(Attachment(entry=entry.id, name=called, media=media, sha256=sha256, bytes=content))
    act.tell(f"Line {entry.id}, job {job}: {called} ({media}, {len(content):,} bytes) kept: {entry.text}.")
    return entry.id


def media_of(content: bytes, name: str) -> str:
    """What a file is by its first bytes. Raises Refusal for what is no picture and no PDF, or too large."""
    if len(content) > LARGEST:
        raise Refusal(f"{name} is larger than {LARGEST // 1_000_000} MB: make it smaller, the book keeps every byte")
    for begins, media in _BEGINS.items():
        if content.startswith(begins):
            return media
    raise Refusal(f"{name} is neither PNG nor JPEG nor PDF, whatever its name says: save it as one of these")


def photos_of(session: Session, job: int, on: dt.date) -> tuple[Photo, ...]:
    """The files kept with a job, without their bytes."""
    columns = (Attachment.id, Attachment.entry, Entry.on_day, Entry.text, Attachment.name, Attachment.media)
    rows = session.execute(
        select(*columns, func.length(Attachment.bytes))
        .join(Entry, Entry.id == Attachment.entry)
        .where(Entry.job == job, live(Attachment, on))
        .order_by(Attachment.id)
    )
    return tuple(Photo(*row) for row in rows)


def content_of(session: Session, photo: Photo) -> bytes:
    """The bytes of a kept file."""
    return session.scalars(select(Attachment.bytes).filter_by(id=photo.id)).one()
