"""Papers: which of them holds on a day, how that is said, and what `warnings` asks to renew."""

import datetime as dt
from typing import Any

import pytest
from sqlalchemy import select

from coatbook.desk import striking
from coatbook.desk.papers import state, state_words, warnings
from coatbook.people.actions import edit_worker
from coatbook.people.papers import add_paper
from coatbook.people.tables import Site
from coatbook.people.views import PaperView, papers
from coatbook.store.book import Book
from people.conftest import Do, usd

TODAY = dt.date(2026, 8, 20)


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def paper(number: str, from_on: str, expires: str | None, **more: Any) -> dict[str, Any]:
    """An insurance of the business, unless said otherwise."""
    values = {"kind": "insurance", "of": "business", "issuer": "Example Mutual", "number": number} | more
    return values | {"from_on": day(from_on), "expires": day(expires) if expires else None}


def numbers(book: Book, on: dt.date, seen: dt.date | None = None) -> list[str]:
    with book.read() as session:
        return [one.number for one in papers(session, on, seen)]


def warned(book: Book, on: dt.date = TODAY, site: str = "mesa", seen: dt.date | None = None) -> tuple[str, ...]:
    with book.read() as session:
        row = session.scalars(select(Site).filter_by(code=site)).one()
        return warnings(session, row.id, on, seen)


PAT = (
    (
        "Pat Lund is a subcontractor with no certificate and no insurance on file: ask for one and write it with "
        "`coatbook paper add insurance --of worker:pat …`."
    ),
)


@pytest.mark.parametrize(
    ("from_on", "expires", "one_word", "words"),
    [
        ("2026-08-21", None, "not yet", "begins on 2026-08-21"),
        ("2026-08-21", "2026-08-22", "not yet", "begins on 2026-08-21"),
        ("2026-08-20", None, "in force", "in force, no expiry written"),
        ("2026-01-01", "2026-09-20", "in force", "in force until 2026-09-20"),  # 31 days on
        ("2026-01-01", "2026-09-19", "expiring", "expires in 30 days, on 2026-09-19"),
        ("2026-01-01", "2026-08-21", "expiring", "expires in 1 day, on 2026-08-21"),
        ("2026-08-20", "2026-08-20", "expiring", "expires today, 2026-08-20"),
        ("2026-01-01", "2026-08-19", "expired", "expired on 2026-08-19"),
    ],
)
def test_how_a_paper_stands(from_on: str, expires: str | None, one_word: str, words: str) -> None:
    end = day(expires) if expires else None
    one = PaperView(1, "permit", "business", "Larkfield", "City", "7", None, day(from_on), end)
    assert (state(one, TODAY), state_words(one, TODAY)) == (one_word, words)


def test_the_latest_of_a_kind_and_a_subject_holds(any_book: Book, do: Do) -> None:
    do(add_paper, **paper("A", "2025-01-01", "2025-12-31"))
    do(add_paper, **paper("C", "2026-10-01", "2027-09-30"))
    do(add_paper, **paper("B", "2026-01-01", "2026-12-31", amount=usd("1000000.00")))
    do(add_paper, **paper("P", "2026-01-01", None, kind="permit"))
    do(add_paper, **paper("S", "2026-01-01", None, of="site:mesa"))
    assert numbers(any_book, TODAY) == ["B", "C", "P", "S"]
    assert numbers(any_book, day("2027-01-01"), TODAY) == ["C", "P", "S"]
    assert numbers(any_book, day("2025-06-01"), TODAY) == ["A", "B", "C", "P", "S"]


def test_of_two_from_one_day_the_later_written_holds_until_it_is_struck(any_book: Book, do: Do) -> None:
    do(add_paper, **paper("A", "2026-01-01", "2026-12-31"))
    do(add_paper, **paper("B", "2026-01-01", "2027-01-31"))
    assert numbers(any_book, TODAY) == ["B"]
    do(striking.strike, name="paper:2", why="not signed")
    assert numbers(any_book, TODAY) == ["A"]


def test_a_paper_is_known_from_the_day_it_was_written(any_book: Book, do: Do) -> None:
    do(add_paper, day="2026-07-01", **paper("A", "2026-01-01", None))
    assert numbers(any_book, day("2026-06-30")) == []
    assert numbers(any_book, day("2026-06-30"), TODAY) == ["A"]


def test_nothing_is_asked_of_a_shop_with_all_in_order(any_book: Book, do: Do) -> None:
    assert warned(any_book) == PAT
    do(add_paper, **paper("P", "2026-01-01", "2027-01-01", of="worker:pat", kind="certificate"))
    do(add_paper, **paper("B", "2026-01-01", "2027-01-01"))
    assert warned(any_book) == ()


def test_each_paper_that_runs_out_is_named_once(any_book: Book, do: Do) -> None:
    do(add_paper, **paper("B", "2026-01-01", "2026-09-19"))
    do(add_paper, **paper("M", "2026-01-01", "2026-07-31", of="site:mesa", kind="permit", issuer="City"))
    do(add_paper, **paper("X", "2026-01-01", "2026-07-31", of="site:piedra", kind="permit", issuer="City"))
    do(add_paper, **paper("K", "2026-01-01", "2026-08-20", of="worker:kim", kind="certificate", issuer="Board"))
    assert warned(any_book) == (
        (
            "The insurance of Larkfield Aircraft Finish (Example Mutual, B) expires in 30 days, on 2026-09-19: renew "
            "it and write the new one with `coatbook paper add insurance --of business …`."
        ),
        (
            "The permit of North field (City, M) expired on 2026-07-31: renew it and write the new one with "
            "`coatbook paper add permit --of site:mesa …`."
        ),
        (
            "The certificate of Kim Soto (Board, K) expires today, 2026-08-20: renew it and write the new one with "
            "`coatbook paper add certificate --of worker:kim …`."
        ),
        *PAT,
    )
    assert "(City, X) expired" in " ".join(warned(any_book, site="piedra"))


def test_an_expired_paper_of_a_subcontractor_is_on_file(any_book: Book, do: Do) -> None:
    do(add_paper, **paper("P", "2025-01-01", "2025-12-31", of="worker:pat"))
    (told,) = warned(any_book)
    assert told.startswith("The insurance of Pat Lund (Example Mutual, P) expired on 2025-12-31")


def test_a_paper_that_has_not_begun_is_not_on_file_yet(any_book: Book, do: Do) -> None:
    do(add_paper, **paper("P", "2026-09-01", None, of="worker:pat"))
    assert warned(any_book) == PAT
    assert warned(any_book, day("2026-09-01")) == ()


def test_a_permit_is_not_what_a_subcontractor_is_asked_for(any_book: Book, do: Do) -> None:
    do(add_paper, **paper("P", "2026-01-01", None, of="worker:pat", kind="permit"))
    assert warned(any_book) == PAT


def test_who_becomes_a_subcontractor_is_asked_too(any_book: Book, do: Do) -> None:
    do(edit_worker, code="kim", kind="subcontractor")
    assert warned(any_book)[0].startswith("Kim Soto is a subcontractor")


@pytest.mark.parametrize(
    ("renewal", "quiet"),
    [
        (("2026-09-02", "2027-09-01"), True),  # the day after the last
        (("2026-08-25", None), True),
        (("2026-09-03", "2027-09-01"), False),  # a day without
        (("2026-09-02", "2026-09-10"), False),  # runs out soon itself
    ],
)
def test_a_renewal_on_file_keeps_quiet_if_it_follows_day_by_day(
    any_book: Book, do: Do, renewal: tuple[str, str | None], quiet: bool
) -> None:
    do(add_paper, **paper("A", "2026-01-01", "2026-09-01"))
    do(add_paper, **paper("B", *renewal))
    told = [sentence for sentence in warned(any_book) if "insurance of Larkfield" in sentence]
    assert (not told) is quiet
    if not quiet:
        assert len(told) == 1


def test_what_is_written_later_is_known_to_who_looks_later(any_book: Book, do: Do) -> None:
    do(add_paper, day="2026-08-20", **paper("P", "2026-01-01", None, of="worker:pat"))
    assert warned(any_book, day("2026-08-01")) == PAT
    assert warned(any_book, day("2026-08-01"), seen=TODAY) == ()
