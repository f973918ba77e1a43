"""Several desks write at once: nothing is lost, the chain is whole, and invoices are numbered without a gap."""

import datetime as dt
from collections.abc import Iterator

import psycopg
import pytest
from psycopg import sql
from sqlalchemy import make_url, select

from coatbook.billing.tables import Document
from coatbook.cli import run
from coatbook.desk.opening import open_book
from coatbook.jobs.tables import Entry
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.store.check import check
from coatbook.store.clock import Clock
from coatbook.store.tables import Act
from databases import STORES, Copies, copy_database, drop_database
from faults.many_jobs import hand_over_many
from faults.warm_child import Child
from furniture import COMMANDS, FURNISHED_ON

DESKS, LINES, INVOICES = 4, 25, 3


def furnish(where: str) -> None:
    with pytest.MonkeyPatch.context() as surrounding:
        surrounding.setenv("COATBOOK_TODAY", FURNISHED_ON)
        surrounding.setenv("COATBOOK_ACTOR", "tester")
        for command in COMMANDS:
            assert run(["--book", where, *command]) == 0


@pytest.fixture(scope="module")
def furnished_copies(postgresql_template: str) -> Iterator[Copies]:
    url = copy_database(postgresql_template)
    furnish(url)
    copies = Copies(url)
    yield copies
    copies.close()
    drop_database(url)


@pytest.fixture(params=STORES)
def where(request: pytest.FixtureRequest) -> Iterator[str]:
    """Where a furnished book is: the path of a SQLite file, then the URL of a PostgreSQL database."""
    if request.param == "sqlite":
        yield str(request.getfixturevalue("furnished"))
        return
    with request.getfixturevalue("furnished_copies").one() as url:
        yield url


@pytest.fixture
def shop(where: str, monkeypatch: pytest.MonkeyPatch) -> Iterator[Book]:
    """That book, opened; the commands of this test find it."""
    monkeypatch.setenv("COATBOOK_BOOK", where)
    monkeypatch.setenv("COATBOOK_TODAY", FURNISHED_ON)
    monkeypatch.setenv("COATBOOK_ACTOR", "tester")
    book = open_book(where, Clock(dt.date.fromisoformat(FURNISHED_ON)))
    yield book
    book.close()


def at_once(book: Book, desks: list[list[list[str]]]) -> list[str]:
    """Run each desk's commands in a process of its own, all at the same time; what each acknowledged."""
    book.engine.dispose()  # a child inherits no open connection
    children = [Child(commands, held=True) for commands in desks]
    for child in children:
        child.go()
    return [child.answers() for child in children]


def test_no_line_is_lost(shop: Book) -> None:
    with shop.read() as session:
        before = len(session.scalars(select(Act.id)).all())
    wanted = {f"desk {desk}, line {line}" for desk in range(DESKS) for line in range(LINES)}
    desks = [
        [["log", "expense", "1", f"{line + 1}.00", f"desk {desk}, line {line}"] for line in range(LINES)]
        for desk in range(DESKS)
    ]
    assert at_once(shop, desks) == ["+" * LINES] * DESKS
    with shop.read() as session:
        assert set(session.scalars(select(Entry.text).filter_by(kind="expense"))) == wanted
        assert session.scalars(select(Act.id).order_by(Act.id)).all() == list(range(1, before + DESKS * LINES + 1))
    assert check(shop) == []


@pytest.mark.parametrize("where", ["postgresql"], indirect=True)
def test_a_servers_own_default_does_not_decide_what_a_waiting_writer_sees(where: str, shop: Book) -> None:
    with psycopg.connect(where, autocommit=True) as server:
        name = sql.Identifier(make_url(where).database or "")
        server.execute(sql.SQL("ALTER DATABASE {} SET default_transaction_isolation = 'serializable'").format(name))
    desks = [
        [["log", "expense", "1", "2.00", f"desk {desk}, line {line}"] for line in range(8)] for desk in range(DESKS)
    ]
    assert at_once(shop, desks) == ["+" * 8] * DESKS
    assert check(shop) == []


def test_what_is_on_the_shelf_is_drawn_once(shop: Book) -> None:
    """A quart is 32 fl oz: of forty who ask for one at the same time, 32 get it."""
    use = ["log", "use", "1", "sealant", "1 fl oz", "--again"]
    answers = at_once(shop, [[use] * 10 for _ in range(DESKS)])
    assert "".join(answers).count("+") == 32
    assert "".join(answers).count("-") == 8
    assert check(shop) == []


def test_invoices_are_numbered_without_a_gap(shop: Book, tmp_path_factory: pytest.TempPathFactory) -> None:
    shop.do(Ask("many jobs", "tester"), hand_over_many, count=DESKS * INVOICES)
    out = str(tmp_path_factory.mktemp("out"))
    desks = [
        [["invoice", "issue", str(2 + desk + DESKS * one), "--yes", "--to", out] for one in range(INVOICES)]
        for desk in range(DESKS)
    ]
    assert at_once(shop, desks) == ["+" * INVOICES] * DESKS
    with shop.read() as session:
        found = session.execute(select(Document.n, Document.number, Document.job).order_by(Document.n)).all()
    assert [n for n, _, _ in found] == list(range(1, DESKS * INVOICES + 1))
    assert [number for _, number, _ in found] == [f"2026-{n:04}" for n, _, _ in found]
    assert len({job for _, _, job in found}) == DESKS * INVOICES
    assert check(shop) == []


def test_one_job_has_one_invoice_whoever_issues_it_first(shop: Book, tmp_path_factory: pytest.TempPathFactory) -> None:
    shop.do(Ask("many jobs", "tester"), hand_over_many, count=3)
    out = str(tmp_path_factory.mktemp("out"))
    commands = [["invoice", "issue", str(2 + one), "--yes", "--to", out] for one in range(3)]
    answers = at_once(shop, [commands] * DESKS)
    assert "".join(answers).count("+") == 3
    with shop.read() as session:
        assert session.scalars(select(Document.n).order_by(Document.n)).all() == [1, 2, 3]
    assert check(shop) == []


def test_a_key_used_by_two_at_once_is_used_once(shop: Book) -> None:
    command = ["log", "expense", "1", "5.00", "fee", "--key", "k"]
    assert at_once(shop, [[command]] * DESKS) == ["+"] * DESKS
    with shop.read() as session:
        assert len(session.scalars(select(Entry.id).filter_by(kind="expense")).all()) == 1
    assert check(shop) == []


def test_a_repeat_by_two_at_once_is_refused(shop: Book) -> None:
    command = ["log", "expense", "1", "5.00", "fee"]
    assert sorted(at_once(shop, [[command]] * DESKS)) == ["+", "-", "-", "-"]
    assert check(shop) == []
