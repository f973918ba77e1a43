"""Coating-maintenance reminders: who hears of what and when; never twice, and never in silence.

The coating is laid on 2026-03-10 under terms of a wash every six months with 30 days of grace: due on 2026-09-10, its
window opens 30 days before and closes on 2026-10-10.
"""

import datetime as dt
import re
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from coatbook.aircraft.actions import add_airframe, add_surface, set_owner
from coatbook.calculators import Result
from coatbook.calculators.discovery import Plugins
from coatbook.calculators.host import Host
from coatbook.desk import hosting
from coatbook.desk.hosting import host_for
from coatbook.desk.opening import open_book
from coatbook.desk.outbox import Carried, send
from coatbook.desk.reminding import Preview, lead_on, letters, preview
from coatbook.desk.telling_upkeep import notice_rows, preview_rows
from coatbook.jobs import actions as jobs
from coatbook.people.actions import edit_business, edit_customer
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from coatbook.upkeep import actions as upkeep
from coatbook.upkeep.tables import Attempt, Message, Notice
from coatbook.values import Refusal
from coatbook.values.marks import parse_mark
from conftest import written
from desk.injected import BROKEN, Inputs, calculator, children, coatings, put, raises
from desk.shopfloor import ask, begin, do, lay, new_job, quantity, strike

LAID, CLOSES = "2026-03-10", dt.date(2026, 10, 10)
FIRST, SECOND, LAST = dt.date(2026, 9, 10), dt.date(2026, 10, 3), dt.date(2026, 10, 13)
At = Callable[[dt.date], Book]


class Later(Clock):
    """A clock whose instants run 16 minutes ahead: a lease begun now is over."""

    def instant(self) -> dt.datetime:
        return super().instant() + dt.timedelta(minutes=16)


@pytest.fixture
def coated(shop: Book) -> Book:
    """The left wing of N123AB is coated."""
    job = new_job(shop, LAID, ("coating", ("left wing",)))
    begin(shop, LAID, job)
    lay(shop, LAID, job, "left wing")
    return shop


@pytest.fixture
def at(coated: Book) -> Iterator[At]:
    """The book on another day; all are closed at the end."""
    opened: list[Book] = []

    def turn_to(day: dt.date) -> Book:
        opened.append(open_book(coated.where, Clock(day)))
        return opened[-1]

    yield turn_to
    for book in opened:
        book.close()


def look(book: Book, host: Host | None = None) -> Preview:
    return preview(book, book.today(), host or host_for(False))


def told(book: Book) -> list[tuple[str, str, int]]:
    """(surface, item, lead) of each notice that would go."""
    return [(one.coating.surface, one.notice.item, one.notice.lead) for one in look(book).planned]


def go(book: Book, folder: Path) -> tuple[str, ...]:
    return send(book, ask(command="remind send"), letters(book, look(book).planned), folder).said


def count(book: Book, table: Any) -> int:
    with book.read() as session:
        return len(session.scalars(select(table.id)).all())


def states(book: Book) -> list[str]:
    return [row["state"] for row in notice_rows(book)]


@pytest.mark.parametrize(
    ("left", "lead"), [(31, None), (30, 30), (8, 30), (7, 7), (0, 7), (-2, 7), (-3, -3), (-400, -3)]
)
def test_the_most_urgent_lead_reached(left: int, lead: int | None) -> None:
    assert lead_on(CLOSES, CLOSES - dt.timedelta(days=left)) == lead


def test_each_lead_is_told_once(at: At, tmp_path: Path) -> None:
    heard: list[tuple[dt.date, int]] = []
    for reached in (FIRST, SECOND, LAST):
        for day in (reached - dt.timedelta(days=1), reached, reached + dt.timedelta(days=1)):
            book = at(day)
            found = look(book).planned
            heard += [(day, one.notice.lead) for one in found]
            send(book, ask(command="remind send"), letters(book, found), tmp_path)
    assert heard == [(FIRST, 30), (SECOND, 7), (LAST, -3)]
    book = at(LAST)
    assert [(row["closes"], row["state"]) for row in notice_rows(book)] == [("2026-10-10", "sent")] * 3
    assert sorted(path.name for path in tmp_path.glob("message-*")) == [
        f"message-0000{number}.{kind}" for number in (1, 2, 3) for kind in ("eml", "ics")
    ]


def test_who_looks_late_tells_the_most_urgent_only(at: At, tmp_path: Path) -> None:
    book = at(dt.date(2026, 10, 5))
    assert told(book) == [("left wing", "wash", 7)]
    go(book, tmp_path)
    assert told(book) == []


def test_two_sends_in_a_row_send_nothing_new(at: At, tmp_path: Path) -> None:
    book = at(FIRST)
    assert go(book, tmp_path) == (f"Message 1 to jo@example.com: sent (written to {tmp_path}/message-00001.eml).",)
    before = written(Path(book.where))
    assert go(book, tmp_path) == ()
    assert written(Path(book.where)) == before


def test_two_runs_at_once_decide_once(at: At, tmp_path: Path) -> None:
    one, other = at(FIRST), at(FIRST)
    planned = letters(one, look(one).planned), letters(other, look(other).planned)
    assert len(send(one, ask(), planned[0], tmp_path).said) == 1
    assert send(other, ask(), planned[1], tmp_path) == Carried((), 0)
    assert (count(one, Message), count(one, Notice), count(one, Attempt)) == (1, 1, 1)


def test_upkeep_done_is_not_asked_for(at: At) -> None:
    book = at(FIRST)
    do(book, FIRST, upkeep.write_done, aircraft="skylane", item="wash", by="the owner")
    assert told(book) == []
    strike(book, "upkeep_done:1")
    assert told(book) == [("left wing", "wash", 30)]


def test_a_coating_laid_over_is_not_asked_about(coated: Book, at: At) -> None:
    job = new_job(coated, "2026-08-01", ("coating", ("left wing",)))
    begin(coated, "2026-08-01", job)
    lay(coated, "2026-08-01", job, "left wing")
    assert told(at(FIRST)) == []
    assert [one.coating.job for one in look(at(dt.date(2027, 2, 1))).planned] == [job]


def test_one_message_gathers_all_a_customer_is_to_hear(coated: Book, at: At, tmp_path: Path) -> None:
    airframe = {"maker": "Piper", "model": "PA-28-181", "serial": "2843001", "owner": "alder"}
    do(coated, LAID, add_airframe, code="archer", mark=parse_mark("N4PA"), **airframe)
    surface = {"area": quantity("90 ft2"), "substrate": "aluminum", "paint": "single-stage"}
    do(coated, LAID, add_surface, aircraft="archer", name="fuselage", **surface)
    job = new_job(coated, LAID, ("coating", ("fuselage",)), aircraft="archer")
    begin(coated, LAID, job)
    lay(coated, LAID, job, "fuselage")
    book = at(FIRST)
    assert len(go(book, tmp_path)) == 1
    assert [(row["id"], row["mark"]) for row in notice_rows(book)] == [(1, "N123AB"), (1, "N4PA")]


def test_a_sold_aircraft_is_held(at: At, tmp_path: Path) -> None:
    book = at(FIRST)
    do(book, "2026-07-01", set_owner, aircraft="skylane", owner="birch")
    (row,) = preview_rows(look(book))
    assert (row["state"], row["customer"], row["id"], row["message_id"]) == ("held", "alder", None, None)
    assert "another owner since, Birch Flying Club: ask whether they want to hear" in row["held_because"]
    assert go(book, tmp_path) == ()
    assert count(book, Notice) == 0


def test_whoever_hears_in_the_place_of_the_owner_hears(coated: Book, at: At) -> None:
    do(coated, LAID, edit_customer, code="birch", email="desk@birch.example.com")
    do(coated, LAID, jobs.set_party, job=2, role="hears", customer="birch")
    (one,) = look(at(FIRST)).planned
    assert (one.customer.code, one.held_because) == ("birch", None)


def test_without_a_mail_address_it_is_held_until_there_is_one(coated: Book, at: At, tmp_path: Path) -> None:
    do(coated, LAID, jobs.set_party, job=2, role="hears", customer="birch")
    book = at(FIRST)
    (row,) = preview_rows(look(book))
    assert (row["state"], row["customer"]) == ("held", "birch")
    assert row["held_because"] == "no mail address: `coatbook customer edit birch --email …`"
    assert go(book, tmp_path) == ()
    do(book, FIRST, edit_customer, code="birch", email="desk@birch.example.com")
    assert len(go(book, tmp_path)) == 1


def crash_after_claim(book: Book) -> int:
    """Decide a message and claim it; then the power goes. Its number."""
    (letter,) = letters(book, look(book).planned)
    values = {"customer": "alder", "to_address": "jo@example.com", "message_id": letter.message_id}
    number = do(book, None, upkeep.write_message, content=letter.content, notices=letter.notices, **values).result
    assert do(book, None, upkeep.claim, message=number, carrier="folder").result == 1
    return int(number)


def test_a_crash_between_claim_and_outcome_is_unsure_and_never_sent_again(at: At, tmp_path: Path) -> None:
    book = at(FIRST)
    number = crash_after_claim(book)
    assert states(book) == ["going"]
    with pytest.raises(Refusal, match="message 1 is going, not unsure: nothing to settle"):
        do(book, None, upkeep.settle, message=number, sent=True)
    assert go(book, tmp_path) == ()
    with closing(open_book(book.where, Later(FIRST))) as later:
        assert states(later) == ["unsure"]
        assert go(later, tmp_path) == ()
    assert list(tmp_path.glob("message-*")) == []


@pytest.mark.parametrize(("sent", "then", "files"), [(True, "sent", 0), (False, "waiting", 2)])
def test_a_person_settles_what_is_unsure(at: At, tmp_path: Path, sent: bool, then: str, files: int) -> None:
    number = crash_after_claim(at(FIRST))
    with closing(open_book(at(FIRST).where, Later(FIRST))) as later:
        do(later, None, upkeep.settle, message=number, sent=sent)
        assert states(later) == [then]
        go(later, tmp_path)
        assert states(later) == ["sent"]
    assert len(list(tmp_path.glob("message-*"))) == files


def test_a_crash_before_the_claim_leaves_it_waiting(at: At, tmp_path: Path) -> None:
    book = at(FIRST)
    (letter,) = letters(book, look(book).planned)
    values = {"customer": "alder", "to_address": "jo@example.com", "message_id": letter.message_id}
    do(book, None, upkeep.write_message, content=letter.content, notices=letter.notices, **values)
    assert states(book) == ["waiting"]
    assert told(book) == []  # it is decided
    assert len(go(book, tmp_path)) == 1
    assert (tmp_path / "message-00001.eml").read_bytes() == letter.content
    assert states(book) == ["sent"]


def test_a_folder_that_cannot_be_written_is_tried_again_later(at: At, tmp_path: Path) -> None:
    book, blocked = at(FIRST), tmp_path / "outbox"
    blocked.write_text("a file where a folder is meant")
    (said,) = go(book, blocked)
    assert said.startswith(f"Message 1 to jo@example.com: later (the folder {blocked} cannot be written: ")
    assert "Not a directory" in said or "File exists" in said
    assert states(book) == ["waiting"]
    blocked.unlink()
    assert len(go(book, blocked)) == 1
    assert states(book) == ["sent"]
    assert (count(book, Message), count(book, Attempt)) == (1, 2)


def test_what_is_sent_keeps_its_bytes_whatever_changes(at: At, tmp_path: Path) -> None:
    book = at(FIRST)
    go(book, tmp_path)
    before = (tmp_path / "message-00001.eml").read_bytes()
    do(book, FIRST, edit_business, name="Another Name")
    with book.read() as session:
        assert session.scalars(select(Message)).one().bytes == before


def test_a_message_bears_the_same_name_however_often_it_is_made(at: At) -> None:
    book = at(FIRST)
    planned = look(book).planned
    first, again = letters(book, planned)[0], letters(book, planned)[0]
    assert first.message_id == again.message_id
    assert re.fullmatch(r"<[0-9a-f-]{36}@example\.com>", first.message_id)


@pytest.mark.parametrize("kind", BROKEN)
def test_a_calculator_that_fails_is_named_with_the_coatings(
    at: At, kind: str, monkeypatch: pytest.MonkeyPatch, command: Callable[..., tuple[int, str, str]]
) -> None:
    compute, failure = BROKEN[kind]
    put(monkeypatch, calculator("warranty", compute, coatings))
    path, before = at(FIRST).where, children()
    state = written(Path(path))
    for verb in (("preview",), ("send", "--yes")):
        code, out, err = command("remind", *verb)
        assert code == 1
        assert "the upkeep of 1 coating could not be worked out and no owner hears of it: " in err
        assert "job 2/left wing/sealant: the calculator warranty 7 " in err
        assert failure in err
        assert "Traceback" not in out + err
    assert written(Path(path)) == state
    assert children() == before


def test_without_the_calculator_reminders_do_not_just_stop(
    at: At, monkeypatch: pytest.MonkeyPatch, refused: Callable[..., str]
) -> None:
    at(FIRST)
    monkeypatch.setattr(hosting, "Plugins", lambda enabled, no_plugins: Plugins(entries=()))
    told = refused("remind", "preview")
    assert "job 2/left wing/sealant: no plug-in brings a calculator 'warranty'" in told


def test_one_coating_that_fails_keeps_no_other_back(
    coated: Book, at: At, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = new_job(coated, LAID, ("coating", ("elevator",)))
    begin(coated, LAID, job)
    lay(coated, LAID, job, "elevator")
    real = host_for(False).plugins.find("warranty")

    def sometimes(inputs: Any) -> Result:
        return raises(Inputs("")) if inputs.surface == "elevator" else real.compute(inputs)

    put(monkeypatch, replace(real, compute=sometimes))  # type: ignore[arg-type]
    book = at(FIRST)
    found = look(book)
    assert [one.coating.surface for one in found.planned] == ["left wing"]
    assert len(found.failures) == 1
    assert found.failures[0].startswith("job 3/elevator/sealant: the calculator warranty")
    assert len(go(book, tmp_path)) == 1
