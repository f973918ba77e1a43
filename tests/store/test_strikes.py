"""A line that was wrong, struck, has never stood: every derived figure is what it was before it was written."""

import csv
import datetime as dt
import io
import re
import shutil
from collections.abc import Callable, Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from coatbook.billing import journal
from coatbook.billing.actions import set_price, set_tax_rate, take_payment
from coatbook.billing.views import invoices, prices, tax_rates
from coatbook.desk import closing, striking
from coatbook.desk.opening import open_book
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.tables import Entry, Reading
from coatbook.jobs.views import diary as diary_lines
from coatbook.jobs.views import film_readings, masks_left_on, steps_of
from coatbook.jobs.views import jobs as all_jobs
from coatbook.people import actions as people
from coatbook.people.views import workers
from coatbook.review.views import review_job, review_month
from coatbook.stock import actions as stock
from coatbook.stock.tables import Drawn, Lot, Purchase
from coatbook.stock.views import materials
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.store.closings import reopen
from coatbook.store.strikes import last_rows
from coatbook.store.tables import Closing, WrittenOnce
from coatbook.upkeep import actions as upkeep
from coatbook.upkeep.views import coatings_of
from coatbook.values import Misuse, Refusal
from coatbook.values.days import Month
from store.season import AUGUST, INVOICE, JULY, JUNE, TODAY, agreed_job, do, quantity, usd

MONTHS = (JUNE, JULY, AUGUST)
DAYS = (dt.date(2026, 7, 15), TODAY)
INVOICED, ON_THE_FLOOR = 1, 2
Line = Callable[[Book, dt.date], Told[Any]]


def figures(book: Book) -> dict[str, Any]:
    """All that is derived from the book, by the views that every screen and paper reads."""
    with book.read() as session:
        found: dict[str, Any] = {
            "workers": workers(session, TODAY),
            "prices": prices(session, TODAY, book.currency),
            "tax rates": tax_rates(session, TODAY),
            "months": [review_month(session, month, TODAY) for month in MONTHS],
        }
        for day in DAYS:
            found[f"shelf on {day}"] = materials(session, day)
            found[f"jobs on {day}"] = all_jobs(session, day)
            found[f"reviews on {day}"] = [review_job(session, job.number, day) for job in all_jobs(session, day)]
            found[f"invoices on {day}"] = invoices(session, day)
            found[f"coatings on {day}"] = coatings_of(session, 1, day)
        for job in (INVOICED, ON_THE_FLOOR):
            found[f"plan of {job}"] = (steps_of(session, job), masks_left_on(session, job))
            found[f"diary of {job}"] = (diary_lines(session, job, TODAY), film_readings(session, job))
    found["journals"] = [closing.journal_of(book, month) for month in MONTHS]
    return found


def balanced(journal: bytes) -> list[dict[str, str]]:
    """The lines of a journal, each of whose entries adds up to nothing."""
    lines = list(csv.DictReader(io.StringIO(journal.decode(), newline="")))
    sums: dict[str, Decimal] = {}
    for line in lines:
        minor = Decimal(line["debit"] or 0) - Decimal(line["credit"] or 0)
        sums[line["entry"]] = sums.get(line["entry"], Decimal(0)) + minor
    assert set(sums.values()) <= {0}
    return lines


# Every kind of line a person can write and strike, as a function of the day it belongs to.


def buying(amount: str, cost: str) -> Line:
    values = {"code": "sealant", "quantity": quantity(amount), "cost": usd(cost), "supplier": "Hillside Supply"}
    return lambda book, day: do(book, day, stock.buy, label="B-400", **values)


def using(job: int, amount: str) -> Line:
    return lambda book, day: do(book, day, diary.log_use, job=job, material="sealant", quantity=quantity(amount))


def spending(job: int, amount: str) -> Line:
    return lambda book, day: do(book, day, diary.log_expense, job=job, amount=usd(amount), what="fee")


def driving(job: int, distance: str, rate: str) -> Line:
    values = {"distance": quantity(distance), "rate": usd(rate), "where": "to the field"}
    return lambda book, day: do(book, day, diary.log_travel, job=job, **values)


def working(worker: str, hours: str, step: int | None) -> Line:
    values = {"job": ON_THE_FLOOR, "worker": worker, "hours": quantity(hours), "step": step}
    return lambda book, day: do(book, day, diary.log_hours, **values)


def paying(amount: str) -> Line:
    values = {"customer": "hill", "amount": usd(amount), "method": "check", "invoices": [INVOICE]}
    return lambda book, day: do(book, day, take_payment, **values)


def reading(*values: str) -> Line:
    spots = [Spot("left wing", "7", tuple(quantity(value) for value in values))]
    more = {"spots": spots, "gauge": "magnetic", "serial": "G-9"}
    return lambda book, day: do(book, day, diary.log_film, job=ON_THE_FLOOR, **more)


def coating(layer: int) -> Line:
    values = {"material": "sealant", "surfaces": ["left wing"], "label": "B-204", "layer": layer}
    return lambda book, day: do(book, day, diary.log_coat, job=ON_THE_FLOOR, **values)


def masking(count: int) -> Line:
    values = {"way": "on", "item": "pitot", "count": count}
    return lambda book, day: do(book, day, diary.log_mask, job=ON_THE_FLOOR, **values)


def pricing(amount: str) -> Line:
    return lambda book, day: do(book, day, set_price, service="wash", amount=usd(amount), basis="job")


def taxing(percent: str) -> Line:
    values = {"place": "US-TX", "kind": "labor", "name": "Sales tax", "percent": percent}
    return lambda book, day: do(book, day, set_tax_rate, **values)


def rating(amount: str) -> Line:
    return lambda book, day: do(book, day, people.set_worker_rate, code="lee", rate=usd(amount))


def planning(passes: int) -> Line:
    values = {"service": "wash", "passes": passes, "materials": ("sealant",)}
    return lambda book, day: do(book, day, jobs.plan_steps, job=ON_THE_FLOOR, **values)


def upkeeping(who: str) -> Line:
    return lambda book, day: do(book, day, upkeep.write_done, aircraft="archer", item="wash", by=who)


money = st.integers(1, 99_999).map(lambda minor: f"{minor // 100}.{minor % 100:02}")
small_money = st.integers(1, 4_000).map(lambda minor: f"{minor // 100}.{minor % 100:02}")
few = st.integers(1, 5)
job_numbers = st.sampled_from((INVOICED, ON_THE_FLOOR))
LINES: st.SearchStrategy[Line] = st.one_of(
    st.builds(buying, few.map("{} fl oz".format), money),
    st.builds(using, job_numbers, few.map("{} fl oz".format)),
    st.builds(spending, job_numbers, money),
    st.builds(driving, job_numbers, few.map("{} mi".format), money),
    st.builds(working, st.sampled_from(("sam", "lee")), few.map("{} h".format), st.sampled_from((None, 1, 2))),
    st.builds(paying, small_money),
    st.lists(few.map("10{} µm".format), min_size=1, max_size=3).map(lambda values: reading(*values)),
    st.builds(coating, few),
    st.builds(masking, few),
    st.builds(pricing, money),
    st.builds(taxing, few.map(str)),
    st.builds(rating, money),
    st.builds(planning, few),
    st.builds(upkeeping, few.map("person {}".format)),
)
OPEN_DAYS = st.dates(dt.date(2026, 7, 10), TODAY)


def restores(book: Book, lines: list[tuple[Line, dt.date]], order: Callable[[list[str]], list[str]]) -> None:
    """Write some lines, strike them in another order: nothing is left of them in any figure."""
    before = figures(book)
    names: list[str] = []
    for line, day in lines:
        line(book, day)
        names += whole_rows(book)
    journals = [closing.journal_of(book, month) for month in MONTHS]
    for name in order(names):
        do(book, None, striking.strike, name=name, why="wrong")
    after = figures(book)
    assert {name for name in before if before[name] != after[name]} == set()
    for drawn in journals:
        balanced(drawn)


def whole_rows(book: Book) -> list[str]:
    """The lines of the latest act that a person may strike, by the names they are struck by."""

    def look(act: OpenAct) -> list[str]:
        return [f"{row.__tablename__}:{row.id}" for row in last_rows(act)]

    return book.do(Ask("look", "tester", dry_run=True), look).result or []


def floored(where: str) -> None:
    """A second job on the floor, for lines that an invoiced job does not take."""
    book = open_book(where, Clock(TODAY))
    agreed_job(book, "2026-07-10")
    book.close()


@pytest.fixture(scope="module")
def same_floor(sqlite_season: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """One book for all examples: whatever was struck in it before must not show in the next."""
    path = str(shutil.copy(sqlite_season, tmp_path_factory.mktemp("floor") / "book.db"))
    floored(path)
    book = open_book(path, Clock(TODAY))
    yield book
    book.close()


@pytest.fixture
def floor(season_where: str) -> Iterator[Book]:
    """The season's book on either store with a second job on the floor."""
    floored(season_where)
    book = open_book(season_where, Clock(TODAY))
    yield book
    book.close()


# An example is four lines at most and as good as a smaller one: shrinking it would take minutes.
@settings(max_examples=25, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(lines=st.lists(st.tuples(LINES, OPEN_DAYS), min_size=1, max_size=4), data=st.data())
def test_wrong_lines_struck_restore_every_figure(
    same_floor: Book, lines: list[tuple[Line, dt.date]], data: st.DataObject
) -> None:
    restores(same_floor, lines, lambda names: data.draw(st.permutations(names), label="order"))


def test_one_line_of_each_kind_struck_restores_every_figure_on_either_store(floor: Book) -> None:
    lines = [
        buying("3 fl oz", "7.77"),
        using(INVOICED, "1 fl oz"),
        using(ON_THE_FLOOR, "2 fl oz"),
        spending(INVOICED, "12.34"),
        driving(ON_THE_FLOOR, "12 mi", "0.71"),
        working("lee", "3 h", 1),
        working("sam", "1 h", None),
        paying("12.50"),
        reading("101 µm", "104 µm"),
        coating(2),
        masking(1),
        pricing("200.00"),
        taxing("7"),
        rating("31.00"),
        planning(2),
        upkeeping("the owner"),
    ]
    day = dt.date(2026, 8, 4)
    restores(floor, [(line, day) for line in lines], lambda names: names[::-1])
    assert check(floor) == []

    before = figures(floor)  # and the figures do show each of these lines
    for line in lines:
        line(floor, day)
    after = figures(floor)
    seen = {name for name in before if before[name] != after[name]}
    assert {"prices", "tax rates", "workers", "journals", "plan of 2", "diary of 1", "diary of 2"} <= seen
    assert {"shelf on 2026-08-20", "invoices on 2026-08-20", "coatings on 2026-08-20"} <= seen


def test_a_strike_takes_its_parts_with_it(floor: Book) -> None:
    line = using(ON_THE_FLOOR, "100 fl oz")(floor, TODAY)  # out of what is left of two lots
    film = reading("101 µm", "104 µm")(floor, TODAY)
    do(floor, None, striking.strike, name=str(line.result), why="wrong job")
    do(floor, None, striking.strike, name="entry:" + str(film.result[0]), why="wrong gauge")
    with floor.read() as session:
        parts: list[WrittenOnce] = [
            *session.scalars(select(Drawn).filter_by(entry=line.result)),
            *session.scalars(select(Reading).filter_by(entry=film.result[0])),
        ]
        assert len(parts) >= 3
        for part in parts:
            entry = session.get_one(Entry, part.entry)  # type: ignore[attr-defined]
            assert (part.struck_on, part.struck_why, part.struck_act) == (
                entry.struck_on,
                entry.struck_why,
                entry.struck_act,
            )
            assert part.struck_on == TODAY


def test_a_line_stays_legible(floor: Book) -> None:
    told = spending(ON_THE_FLOOR, "35.00")(floor, TODAY)
    do(floor, None, striking.strike, name=str(told.result), why="paid by the owner")
    with floor.read() as session:
        row = session.get_one(Entry, told.result)
        assert (row.minor, row.text, row.struck_why) == (3500, "fee", "paid by the owner")


NOT_STRUCK = (
    ("purchase:1", Refusal, r"lot 1 cannot be struck: drawn 1 stands on it; strike that first"),
    ("lot:1", Refusal, r"lot 1 is a part of purchase:1: strike that with `coatbook strike purchase:1 --why …`"),
    ("drawn:1", Refusal, r"drawn 1 is a part of entry:3: strike that"),
    ("settles:1", Refusal, r"settles 1 is a part of payment:1: strike that"),
    ("closing:1", Refusal, r"closes 2026-06: take it back with `coatbook book reopen 2026-06 --why …`"),
    ("party:1", Refusal, r"write another with `coatbook job party 1 owner CUSTOMER`"),
    ("job_event:1", Refusal, r"job 1 is invoiced as 2026-0001: what led to the invoice stands"),
    ("12", Refusal, r"entry 12 was struck on 2026-07-02 \(of another job\): nothing to strike"),
    ("999", Refusal, r"there is no line 999: look it up with `coatbook job show JOB`"),
    ("document:1", Misuse, r"'document:1' names no line"),
    ("worker:1", Misuse, r"'worker:1' names no line"),
    ("last", Refusal, r"the latest act wrote no line that could be struck"),
    ("-1", Misuse, r"'-1' names no line"),
    ("entry:²", Misuse, r"names no line"),
)


class TestRefused:
    def test_what_may_not_be_struck(self, season_book: Book) -> None:
        do(season_book, None, people.edit_customer, code="hill", phone="555-0103")  # an act that writes no line
        before = figures(season_book)
        for name, kind, sentence in NOT_STRUCK:
            with pytest.raises(kind, match=sentence):
                do(season_book, None, striking.strike, name=name, why="wrong")
        assert figures(season_book) == before

    def test_a_purchase_goes_once_nothing_is_drawn_from_it(self, season_book: Book) -> None:
        do(season_book, None, striking.strike, name="3", why="another material")
        do(season_book, None, striking.strike, name="purchase:1", why="never delivered")
        with season_book.read() as session:
            assert session.get_one(Lot, 1).struck_on == session.get_one(Purchase, 1).struck_on == JULY.first


class TestClosedMonth:
    """July is closed; its lines are struck from the first of August on, and its journal never changes."""

    @pytest.fixture
    def closed(self, floor: Book) -> Book:
        buying("6 fl oz", "13.00")(floor, dt.date(2026, 7, 28))
        do(floor, None, closing.close_month, month=JULY)
        return floor

    @pytest.mark.parametrize(
        ("season_where", "name"),
        [
            *(("sqlite", f"entry:{line}") for line in range(1, 6)),
            ("sqlite", "payment:1"),
            ("sqlite", "purchase:3"),
            ("postgresql", "entry:3"),
        ],
        indirect=["season_where"],
    )
    def test_the_reversal_lands_in_the_open_month(self, closed: Book, name: str) -> None:
        before = figures(closed)
        kept = closing.journal_of(closed, JULY)
        do(closed, None, striking.strike, name=name, why="wrong")
        assert closing.journal_of(closed, JULY) == kept
        with closed.read() as session:
            lines = journal.in_month(journal.postings(session, JULY.last), JULY)
            assert journal.as_csv(lines, "USD") == kept  # nor would it be drawn otherwise today
            assert review_month(session, JULY, TODAY) == before["months"][1]

        wrong = {"entry": "line"}.get(name.partition(":")[0], name.partition(":")[0]) + " " + name.partition(":")[2]
        there = {line["entry"]: line for line in balanced(kept)}
        here = [line for line in balanced(closing.journal_of(closed, AUGUST)) if line["entry"] == f"{wrong} struck"]
        if name == "entry:2":  # the owner's hours are memo: never in the journal
            assert wrong not in there
            assert here == []
            return
        assert {line["date"] for line in here} == {"2026-08-01"}
        assert wrong in there
        amounts = [Decimal(line["debit"] or 0) for line in balanced(kept) if line["entry"] == wrong]
        assert sum(amounts) == sum(Decimal(line["credit"] or 0) for line in here)

    def test_the_figures_are_restored_from_then_on_and_as_of_before_they_stand(self, closed: Book) -> None:
        before = figures(closed)
        used = before["shelf on 2026-08-20"][0].on_hand
        do(closed, None, striking.strike, name="3", why="of another job")  # 40 fl oz used in July
        after = figures(closed)
        assert after["shelf on 2026-08-20"][0].on_hand == used + quantity("40 fl oz")
        assert after["shelf on 2026-07-15"] == before["shelf on 2026-07-15"]
        assert after["reviews on 2026-07-15"] == before["reviews on 2026-07-15"]
        total, then = after["reviews on 2026-08-20"][0], before["reviews on 2026-08-20"][0]
        assert total.figures.materials == 0
        assert [month.figures.materials for month in total.months] == [then.figures.materials, -then.figures.materials]

    def test_a_month_reopened_takes_the_strike_on_its_own_day(self, closed: Book) -> None:
        kept = closing.journal_of(closed, JULY)
        do(closed, None, reopen, month=JULY, why="an expense was wrong")
        do(closed, None, striking.strike, name="4", why="wrong")
        with closed.read() as session:
            assert session.get_one(Entry, 4).struck_on == dt.date(2026, 7, 2)
        do(closed, None, closing.close_month, month=JULY)
        assert "line 4" not in {line["entry"] for line in balanced(closing.journal_of(closed, JULY))}
        with closed.read() as session:
            july = session.scalars(select(Closing).filter_by(month=str(JULY)).order_by(Closing.id)).all()
            assert [one.struck_on for one in july] == [TODAY, None]
            assert july[0].journal == kept  # what was kept is kept, though it holds no more

    def test_no_line_is_lost_from_the_sum_of_all_months(self, closed: Book) -> None:
        for name in ("entry:4", "payment:1", "purchase:3"):
            do(closed, None, striking.strike, name=name, why="wrong")
        for month in (JUNE, JULY, AUGUST, Month(2026, 5)):
            balanced(closing.journal_of(closed, month))
        assert check(closed) == []


def test_the_last_line_of_somebody_else_is_not_struck_by_mistake(season_book: Book) -> None:
    spending(INVOICED, "35.00")(season_book, TODAY)
    with pytest.raises(Refusal, match=r"the latest act is tester's \(`log expense`\), not yours: name the line"):
        season_book.do(Ask("strike", "kit"), striking.strike, name="last", why="typed twice")


def test_the_last_line_is_struck_by_a_command(
    season_where: str, command_on: Callable[..., tuple[int, str, str]]
) -> None:
    assert command_on(season_where, "log", "expense", 1, "35.00", "fee")[0] == 0
    code, out, err = command_on(season_where, "strike", "last", "--why", "typed twice")
    assert (code, err) == (0, "")
    assert re.fullmatch(r"Struck entry \d+ of 2026-08-20: typed twice\.\n", out)
    code, out, err = command_on(season_where, "strike", "purchase:1", "--why", "wrong")
    assert (code, out) == (1, "")
    assert err == "coatbook: lot 1 cannot be struck: drawn 1 stands on it; strike that first\n"
