"""One action, one transaction, one act: what is written together, what repeats, and what writes nothing at all."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import func, select
from sqlalchemy.exc import IntegrityError

from coatbook.desk.opening import open_book
from coatbook.people.actions import add_customer, edit_customer, set_overhead_rate
from coatbook.people.tables import Customer, OverheadRate
from coatbook.store import chain
from coatbook.store.acts import Ask, OpenAct, Repeat
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.store.strikes import strike_whole
from coatbook.store.tables import Act, Base, Closing, Revision
from coatbook.values import Refusal, frozen
from store.season import JULY, TODAY, usd

Command = Callable[..., tuple[int, str, str]]
DAY = dt.date(2026, 8, 3)


def ask(command: str = "rates", **more: Any) -> Ask:
    return Ask(command, "tester", **({"on": DAY} | more))


def rates(act: OpenAct, *, minors: tuple[int, ...], why_not: str | None = None) -> int:
    """Write a row for each amount, and refuse after all of them if told so."""
    for minor in minors:
        act.add(OverheadRate(from_on=act.on, minor=minor))
        act.tell(f"wrote {minor}")
    if why_not is not None:
        raise Refusal(why_not)
    return sum(minors)


def dump(book: Book) -> dict[str, list[Any]]:
    with book.read() as session:
        return {
            table.name: [tuple(row) for row in session.execute(select(table).order_by(table.c.id))]
            for table in Base.metadata.sorted_tables
        }


def acts(book: Book) -> list[Act]:
    with book.read() as session:
        return list(session.scalars(select(Act).order_by(Act.id)))


def test_a_book_begins_with_one_act(any_book: Book) -> None:
    (first,) = acts(any_book)
    assert (first.id, first.command, first.on_day) == (1, "init", dt.date(2026, 1, 2))
    assert first.head == chain.act_head(first, chain.GENESIS)
    with any_book.read() as session:
        assert any_book.head(session) == first.head


def test_all_rows_of_an_action_are_one_act(any_book: Book) -> None:
    before = dt.datetime.now(dt.UTC)
    told = any_book.do(ask(), rates, minors=(1, 2, 3))
    assert (told.result, told.text, told.repeated) == (6, "wrote 1\nwrote 2\nwrote 3", False)
    first, act = acts(any_book)
    assert (act.id, act.actor, act.command, act.on_day, act.told) == (2, "tester", "rates", DAY, told.text)
    assert act.asked == '{"minors":[1,2,3]}'
    assert before <= act.instant <= dt.datetime.now(dt.UTC)  # the real clock, whatever day is pretended
    assert act.head == chain.act_head(act, first.head)
    with any_book.read() as session:
        assert {row.act for row in session.scalars(select(OverheadRate))} == {2}
        assert {row.on_day for row in session.scalars(select(OverheadRate))} == {DAY}
    assert check(any_book) == []


def test_without_a_day_the_day_is_today(any_book: Book) -> None:
    any_book.do(ask(on=None), rates, minors=(1,))
    assert acts(any_book)[-1].on_day == TODAY


def test_an_action_that_does_not_end_writes_nothing(any_book: Book) -> None:
    error: BaseException

    def fails(act: OpenAct, *, minors: tuple[int, ...]) -> None:
        rates(act, minors=minors)
        add_customer(act, code="hill", name="Hill", address="2 Low Road")
        raise error

    before = dump(any_book)
    for error in (Refusal("no"), RuntimeError("a mistake of ours"), KeyboardInterrupt()):
        with pytest.raises(type(error)):
            any_book.do(ask(), fails, minors=(1, 2))
        assert dump(any_book) == before
    assert any_book.do(ask(), rates, minors=(1, 2)).result == 3  # and nothing is left locked
    assert check(any_book) == []


def test_a_commit_between_the_lines_of_an_action_is_refused(any_book: Book) -> None:
    """A row names its act, whose own row comes last: without it no line can stand."""

    def commits_too_soon(act: OpenAct) -> None:
        rates(act, minors=(1,))
        act.session.commit()

    before = dump(any_book)
    with pytest.raises(IntegrityError):
        any_book.do(ask(), commits_too_soon)
    assert dump(any_book) == before
    assert any_book.do(ask(), rates, minors=(1,)).result == 1  # and nothing is left locked


def test_a_dry_run_tells_all_and_writes_nothing(any_book: Book) -> None:
    before = dump(any_book)
    told = any_book.do(ask(dry_run=True, key="k"), rates, minors=(1, 2))
    assert (told.text, told.result) == ("wrote 1\nwrote 2", 3)
    assert dump(any_book) == before
    assert any_book.do(ask(key="k"), rates, minors=(1, 2)).text == told.text


class TestKeys:
    def test_a_second_use_prints_the_first_result_and_writes_nothing(self, any_book: Book) -> None:
        first = any_book.do(ask(key="k"), rates, minors=(1,))
        before = dump(any_book)
        for again in (False, True):
            second = any_book.do(ask(key="k", again=again), rates, minors=(1,))
            assert (second.text, second.result, second.repeated) == (first.text, None, True)
        assert dump(any_book) == before

    def test_it_does_so_after_the_line_was_struck_and_on_another_day(self, any_book: Book) -> None:
        first = any_book.do(ask(key="k"), rates, minors=(1,))
        any_book.do(ask("strike"), strike_rate, row=1)
        assert any_book.do(ask(key="k", on=DAY + dt.timedelta(days=1)), rates, minors=(1,)).text == first.text

    def test_a_key_of_another_command_is_refused(self, any_book: Book) -> None:
        any_book.do(ask(key="k"), rates, minors=(1,))
        before = dump(any_book)
        with pytest.raises(Refusal, match="the key 'k' was used by `rates` already: take another key"):
            any_book.do(ask("other", key="k"), rates, minors=(1,))
        assert dump(any_book) == before

    def test_a_key_on_other_values_is_refused(self, any_book: Book) -> None:
        any_book.do(ask(key="k"), rates, minors=(1,))
        with pytest.raises(Refusal, match=r"was used with other values already \(act 2\): take another key"):
            any_book.do(ask(key="k"), rates, minors=(2,))

    def test_a_refused_action_does_not_use_its_key_up(self, any_book: Book) -> None:
        with pytest.raises(Refusal):
            any_book.do(ask(key="k"), rates, minors=(1,), why_not="no")
        assert any_book.do(ask(key="k"), rates, minors=(1,)).repeated is False

    def test_on_the_command_line(self, any_where: str, command_on: Command) -> None:
        words = ("business", "overhead", "9.50", "--key", "k")
        first = command_on(any_where, *words)
        assert first[0] == 0
        assert command_on(any_where, *words) == first
        code, out, err = command_on(any_where, "business", "overhead", "9.60", "--key", "k")
        assert (code, out) == (1, "")
        assert err.startswith("coatbook: the key 'k' was used with other values already")
        code, out, err = command_on(any_where, "worker", "add", "sam", "--name", "Sam", "--kind", "owner", "--key", "k")
        assert (code, out) == (1, "")
        assert err == "coatbook: the key 'k' was used by `business overhead` already: take another key\n"


def strike_rate(act: OpenAct, *, row: int) -> None:
    strike_whole(act, act.session.get_one(OverheadRate, row), "wrong")


class TestRepeats:
    def test_the_same_again_is_refused_and_again_means_it(self, any_book: Book) -> None:
        any_book.do(ask(), rates, minors=(1,))
        before = dump(any_book)
        with pytest.raises(Repeat, match=r"stands already \(act 2\): give --again if you mean a second one"):
            any_book.do(ask(), rates, minors=(1,))
        assert dump(any_book) == before
        any_book.do(ask(again=True), rates, minors=(1,))
        assert len(acts(any_book)) == 3

    def test_other_values_another_day_and_another_command_are_no_repeat(self, any_book: Book) -> None:
        any_book.do(ask(), rates, minors=(1,))
        any_book.do(ask(), rates, minors=(2,))
        any_book.do(ask(on=DAY + dt.timedelta(days=1)), rates, minors=(1,))
        any_book.do(ask("other"), rates, minors=(1,))
        assert len(acts(any_book)) == 5

    def test_a_struck_line_is_no_repeat(self, any_book: Book) -> None:
        any_book.do(ask(), rates, minors=(1,))
        any_book.do(ask("strike"), strike_rate, row=1)
        any_book.do(ask(), rates, minors=(1,))
        assert len(acts(any_book)) == 4


class TestDays:
    def test_a_day_after_today_is_refused(self, any_book: Book) -> None:
        before = dump(any_book)
        with pytest.raises(Refusal, match="2026-08-21 is after today"):
            any_book.do(ask(on=dt.date(2026, 8, 21)), rates, minors=(1,))
        assert dump(any_book) == before

    def test_a_line_dated_after_today_is_refused(self, any_book: Book) -> None:
        def ahead(act: OpenAct) -> None:
            act.add(OverheadRate(on_day=dt.date(2026, 8, 21), from_on=DAY, minor=1))

        with pytest.raises(Refusal, match="which is after today"):
            any_book.do(ask(), ahead)

    def test_a_day_in_a_closed_month_is_refused_with_what_to_do(self, season_book: Book) -> None:
        before = dump(season_book)
        with pytest.raises(Refusal) as refusal:
            season_book.do(ask(on=dt.date(2026, 6, 30)), set_overhead_rate, rate=usd("9.00"))
        assert str(refusal.value) == (
            "the rate is dated 2026-06-30, but 2026-06 is closed: date it 2026-07-01 or later and name the month it "
            "belongs to, or reopen with `coatbook book reopen 2026-06 --why …`"
        )
        with pytest.raises(Refusal, match="the line is dated 2026-06-30, but 2026-06 is closed"):
            season_book.do(ask(on=dt.date(2026, 6, 30)), rates, minors=(1,))
        assert dump(season_book) == before
        season_book.do(ask(on=JULY.first), rates, minors=(1,))

    def test_on_the_command_line(self, season_where: str, command_on: Command) -> None:
        code, out, err = command_on(season_where, "business", "overhead", "9.00", "--on", "2026-06-30")
        assert (code, out) == (1, "")
        assert err.count("\n") == 1
        assert "2026-06 is closed: date it 2026-07-01 or later" in err
        assert "`coatbook book reopen 2026-06 --why …`" in err


def test_every_revision_of_an_edited_row_is_kept(any_book: Book) -> None:
    any_book.do(ask("add"), add_customer, code="hill", name="Hill", address="2 Low Road")
    any_book.do(ask("edit"), edit_customer, code="hill", phone="555-0101")
    any_book.do(ask("edit"), edit_customer, code="hill", phone="555-0102")
    with any_book.read() as session:
        revisions = session.scalars(select(Revision).filter_by(of_table="customer").order_by(Revision.n)).all()
        row = session.scalars(select(Customer)).one()
        assert [(revision.n, revision.of_id, revision.act) for revision in revisions] == [
            (1, 1, 2),
            (2, 1, 3),
            (3, 1, 4),
        ]
        assert ["phone" in revision.content for revision in revisions] == [False, True, True]
        assert revisions[-1].content == frozen.dump(chain.content(row))
    assert check(any_book) == []


DIFFER = {"init", "issue", "claim"}  # hold the book's own uuid, the head of its chain, a real instant


def test_the_same_acts_are_hashed_alike_on_both_stores(sqlite_season: Path, postgresql_season: str) -> None:
    marks = []
    for where in (str(sqlite_season), postgresql_season):
        book = open_book(where, Clock(TODAY))
        marks.append([(act.command, act.asked, act.told, act.rows) for act in acts(book)])
        book.close()
    assert len(marks[0]) == len(marks[1]) > 40
    for one, other in zip(*marks, strict=True):
        assert one[:3] == other[:3]
        assert (one[3] == other[3]) is (one[0] not in DIFFER), one[0]


def test_the_chain_has_no_gap(season_book: Book) -> None:
    links = acts(season_book)
    assert [act.id for act in links] == list(range(1, len(links) + 1))
    before = chain.GENESIS
    for act in links:
        assert act.head == chain.act_head(act, before)
        before = act.head
    with season_book.read() as session:
        assert session.scalar(select(func.count()).select_from(Closing)) == 1
