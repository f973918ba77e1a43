"""A withdrawn aircraft: nobody is reminded of it and no job is opened for it, until that is struck."""

import datetime as dt
import json
from collections.abc import Callable
from contextlib import closing

import pytest

from aircraft.doing import do, strike
from coatbook.aircraft.lifetime import withdraw
from coatbook.desk.hosting import host_for
from coatbook.desk.opening import open_book
from coatbook.desk.reminding import Preview, preview
from coatbook.jobs import actions as jobs
from coatbook.store.book import Book
from coatbook.store.clock import Clock
from coatbook.values import Refusal
from desk.shopfloor import begin, lay, new_job

Command = Callable[..., str]
LAID, IN_WINDOW = "2026-03-10", dt.date(2026, 9, 15)  # a wash every six months: its window is open then


@pytest.fixture
def coated(shop: Book) -> Book:
    job = new_job(shop, LAID, ("coating", ("left wing",)))
    begin(shop, LAID, job)
    lay(shop, LAID, job, "left wing")
    return shop


def told(book: Book) -> Preview:
    with closing(open_book(book.where, Clock(IN_WINDOW))) as later:
        return preview(later, IN_WINDOW, host_for(True))


def test_nobody_is_reminded_of_it_but_it_is_counted(coated: Book) -> None:
    assert (len(told(coated).planned), told(coated).withdrawn) == (1, 0)
    do(coated, withdraw, aircraft="skylane", why="exported", from_on=IN_WINDOW)
    assert (told(coated).planned, told(coated).failures, told(coated).withdrawn) == ((), (), 1)
    strike(coated, "withdrawn:1")
    assert (len(told(coated).planned), told(coated).withdrawn) == (1, 0)


def test_from_a_coming_day_it_is_reminded_of_until_then(coated: Book) -> None:
    do(coated, withdraw, aircraft="skylane", why="exported", from_on=IN_WINDOW + dt.timedelta(days=1))
    assert (len(told(coated).planned), told(coated).withdrawn) == (1, 0)


def test_the_commands_say_so(coated: Book, coatbook: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    answer = coatbook("aircraft", "withdraw", "N123AB", "--why", "exported", "--from", "2026-08-01")
    assert answer.splitlines() == [
        "skylane is withdrawn from 2026-08-01: exported. Nobody is reminded of it from then on.",
        "If it flies again: `coatbook strike withdrawn:1 --why …`.",
    ]
    monkeypatch.setenv("COATBOOK_TODAY", str(IN_WINDOW))
    assert coatbook("remind", "preview") == "Nothing is to be told to anyone. Withdrawn aircraft left out: 1.\n"
    assert coatbook("remind", "send", "--yes") == "Nothing to send.\n"
    (row,) = json.loads(coatbook("aircraft", "list", "--json"))
    assert row["state"] == "withdrawn"
    shown = json.loads(coatbook("aircraft", "show", "skylane", "--json"))
    assert shown["withdrawn"] == {"from": "2026-08-01", "why": "exported", "line": "withdrawn:1"}
    assert shown["coatings"] == [{"surface": "left wing", "product": "sealant", "applied": "2026-03-10", "ended": None}]
    assert "(alder); withdrawn since 2026-08-01: exported.\n" in coatbook("aircraft", "show", "N123AB")
    assert json.loads(coatbook("aircraft", "list", "--on", "2026-08-10", "--json"))[0]["state"] == "in service"


def test_no_job_is_opened_for_it(shop: Book) -> None:
    do(shop, withdraw, aircraft="skylane", why="exported", from_on=dt.date(2026, 6, 1))
    values = {"aircraft": "skylane", "site": "mesa", "asked_for": "Wash"}
    with pytest.raises(Refusal, match=r"withdrawn since 2026-06-01 \(exported\), no job is opened for it"):
        do(shop, jobs.open_job, on="2026-06-01", **values)
    do(shop, jobs.open_job, on="2026-05-31", **values)
    strike(shop, "withdrawn:1")
    do(shop, jobs.open_job, **values)
