"""Stops of the work, conditions at the start and end of a coat, and files kept with a job."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from coatbook.jobs import diary as lines
from coatbook.jobs import photos
from coatbook.jobs.tables import Entry
from coatbook.jobs.views import diary, find_job
from coatbook.store.book import Book
from coatbook.values import Misuse, Refusal
from desk.shopfloor import TODAY, accounts, begin, do, hand_over, new_job, quantity, strike

DAY, NEXT = "2026-04-01", "2026-04-02"
PNG = b"\x89PNG\r\n\x1a\n" + b"pixels"
JPEG, PDF = b"\xff\xd8\xff\xe0 pixels", b"%PDF-1.7 words"
AIR: dict[str, Any] = {"air": quantity("24 °C"), "skin": quantity("26 °C"), "humidity": quantity("45 %")}


def told(book: Book, job: int = 1) -> list[str]:
    with book.read() as session:
        return [f"{one.kind}: {one.what}" for one in diary(session, find_job(session, job).id, TODAY)]


def stop(book: Book, day: str = DAY, job: int = 1, **values: Any) -> None:
    do(book, day, lines.log_stop, job=job, **({"kind": "humid", "what": "84 % until noon"} | values))


def test_a_stop_says_why_and_what_was_lost_and_costs_nothing(shop: Book) -> None:
    before = accounts(shop)
    stop(shop, hours=quantity("3 h"))
    stop(shop, kind="Customer", what="no key")
    assert told(shop) == ["stop: humid, 84 % until noon", "stop: customer, no key"]
    with shop.read() as session:
        assert session.get_one(Entry, 1).quanta == quantity("3 h").quanta
    assert accounts(shop) == before


@pytest.mark.parametrize(
    ("values", "kind", "says"),
    [
        ({"kind": "late"}, Misuse, "use one of cold, humid, access, customer, product"),
        ({"hours": quantity("0 h")}, Refusal, "the hours lost 0 h must be more than zero"),
        ({"hours": quantity("25 h")}, Misuse, "25 h lost is more than a day has: write a stop for each day"),
        ({"what": ""}, Misuse, "what stopped the work is empty"),
    ],
)
def test_what_is_no_stop(shop: Book, values: dict[str, Any], kind: type[Refusal], says: str) -> None:
    with pytest.raises(kind, match=says):
        stop(shop, **values)


def test_a_job_that_is_over_does_not_stop(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    begin(shop, DAY, job)
    hand_over(shop, DAY, job)
    stop(shop, DAY, job)  # written late, of its last day
    with pytest.raises(Refusal, match="job 2 was handed over on 2026-04-01"):
        stop(shop, NEXT, job)


def conditions(book: Book, day: str, stage: str | None = None, time: str | None = None) -> None:
    do(book, day, lines.log_conditions, job=1, stage=stage, time=time, **AIR)


def test_conditions_are_of_the_start_or_the_end_of_a_coat(shop: Book) -> None:
    conditions(shop, DAY, "start", "09:30")
    conditions(shop, DAY, "end", "14:05")
    conditions(shop, DAY)
    assert told(shop) == [
        "conditions: air 24 °C, skin 26 °C, humidity 45 %, at the start, 09:30",
        "conditions: air 24 °C, skin 26 °C, humidity 45 %, at the end, 14:05",
        "conditions: air 24 °C, skin 26 °C, humidity 45 %",
    ]


def test_an_end_follows_its_start(shop: Book) -> None:
    with pytest.raises(Refusal, match="job 1 has no start of a coat that waits for its end on 2026-04-01"):
        conditions(shop, DAY, "end")
    conditions(shop, NEXT, "start", "09:30")
    with pytest.raises(Refusal, match="no start of a coat that waits"):
        conditions(shop, DAY, "end")
    with pytest.raises(Refusal, match="the coat began at 09:30, and 08:00 is before that"):
        conditions(shop, NEXT, "end", "08:00")
    conditions(shop, "2026-04-03", "end", "01:00")  # past midnight
    with pytest.raises(Refusal, match="no start of a coat that waits"):
        conditions(shop, "2026-04-03", "end")
    strike(shop, "2")
    conditions(shop, "2026-04-03", "end")


@pytest.mark.parametrize("time", ["9:30", "24:00", "09:60", "noon", ""])
def test_what_is_no_hour(shop: Book, time: str) -> None:
    with pytest.raises(Misuse, match="is no hour of the day"):
        conditions(shop, DAY, "start", time)


def keep(book: Book, content: bytes = PNG, name: str = "wing.txt", job: int = 1) -> int:
    values = {"name": name, "content": content, "caption": "Left wing before"}
    return int(do(book, DAY, photos.log_photo, job=job, **values).result)


@pytest.mark.parametrize(
    ("content", "media", "file"),
    [
        (PNG, "image/png", "line-1.png"),
        (JPEG, "image/jpeg", "line-1.jpg"),
        (PDF, "application/pdf", "line-1.pdf"),
    ],
)
def test_a_file_is_what_its_content_says(shop: Book, content: bytes, media: str, file: str) -> None:
    keep(shop, content)
    with shop.read() as session:
        (found,) = photos.photos_of(session, find_job(session, 1).id, TODAY)
        assert photos.content_of(session, found) == content
    assert (found.media, found.file_name, found.size, found.name) == (media, file, len(content), "wing.txt")
    assert told(shop) == ["photo: Left wing before"]


def test_the_same_file_is_kept_once_with_a_job(shop: Book) -> None:
    line = keep(shop)
    with pytest.raises(Refusal, match=f"the same file is kept with job 1 as line {line} already"):
        keep(shop, name="again.png")
    keep(shop, job=new_job(shop, DAY))
    strike(shop, str(line))
    keep(shop)


@pytest.mark.parametrize("content", [b"", b"GIF89a", b"%PDF", b"<html>"])
def test_what_is_no_picture_and_no_paper(shop: Book, content: bytes) -> None:
    with pytest.raises(Refusal, match="is neither PNG nor JPEG nor PDF, whatever its name says"):
        keep(shop, content, "wing.png")


def test_what_is_too_large(shop: Book) -> None:
    assert keep(shop, PNG + bytes(photos.LARGEST - len(PNG)))
    with pytest.raises(Refusal, match="is larger than 10 MB"):
        keep(shop, PNG + bytes(photos.LARGEST - len(PNG) + 1))


def test_as_typed(furnished: object, coatbook: Callable[..., str], refused: Callable[..., str], tmp_path: Path) -> None:
    told = coatbook("log", "stop", "1", "cold", "48 °F in the hangar", "--hours", "2h")
    assert told == "Line 1, job 1: stopped, cold: 48 °F in the hangar, 2 h lost.\n"
    picture = tmp_path / "wing.jpg"
    picture.write_bytes(PNG)
    told = coatbook("log", "photo", "1", picture, "--caption", "Left wing before")
    assert told == "Line 2, job 1: wing.jpg (image/png, 14 bytes) kept: Left wing before.\n"
    assert coatbook("job", "photos", "1", "--to", tmp_path / "out") == (
        "line  day         file        bytes  caption\n   2  2026-08-20  line-2.png     14  Left wing before\n"
    )
    assert (tmp_path / "out" / "line-2.png").read_bytes() == PNG
    assert "is there already: name another folder" in refused("job", "photos", "1", "--to", tmp_path / "out")
    assert "cannot write into" in refused("job", "photos", "1", "--to", picture)
    assert "cannot read 'nowhere.png'" in refused("log", "photo", "1", "nowhere.png", "--caption", "x")
    typed = ("--air", "24 °C", "--skin", "26 °C", "--humidity", "45 %", "--stage", "start", "--time", "09:30")
    assert coatbook("log", "conditions", "1", *typed).endswith("humidity 45 %, at the start, 09:30.\n")
