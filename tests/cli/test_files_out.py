"""Files that commands write: never over anything else, and what is done stands when a file cannot be written."""

from collections.abc import Callable
from pathlib import Path

import pytest

from coatbook.store.book import Book
from desk.shopfloor import begin, hand_over, lay, new_job, washed

Command = Callable[..., str]
Outcome = tuple[int, str, str]


@pytest.fixture
def shop(furnished: object, book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    monkeypatch.chdir(tmp_path)
    return book


@pytest.fixture
def blocked(tmp_path: Path) -> Path:
    """What cannot be a folder, whoever runs this."""
    path = tmp_path / "blocked"
    path.write_text("a file")
    return path


def test_an_invoice_is_printed_once_and_stands_there(shop: Book, coatbook: Command, tmp_path: Path) -> None:
    _, number = washed(shop, "2026-04-01")
    first = coatbook("invoice", "print", number, "--to", "invoices")
    path = Path("invoices/invoice-2026-0001.pdf")
    assert first == f"Written to {path}.\n"
    content = path.read_bytes()
    assert coatbook("invoice", "print", number, "--to", "invoices") == f"It is at {path} already, byte for byte.\n"
    assert path.read_bytes() == content


def test_another_file_is_never_replaced(
    shop: Book, coatbook: Command, refused: Command, tmp_path: Path, book_path: Path
) -> None:
    _, number = washed(shop, "2026-04-01")
    coatbook("invoice", "print", number, "--to", "invoices")  # the first drawing is kept in the book
    other, link = tmp_path / "other.pdf", tmp_path / "link.pdf"
    other.write_text("another's invoice")
    link.symlink_to(book_path)
    told = refused("invoice", "print", number, "--to", other)
    assert told == f"coatbook: there is another file at {other} already: name another place"
    assert "is a database, and may be a book" in refused("invoice", "print", number, "--to", link)
    assert other.read_text() == "another's invoice"
    assert link.is_symlink()


def test_an_invoice_whose_pdf_cannot_be_written_is_issued(
    shop: Book, command: Callable[..., Outcome], coatbook: Command, blocked: Path
) -> None:
    job = new_job(shop, "2026-04-01", ("wash", ()))
    hand_over(shop, "2026-04-01", job)
    code, out, err = command("invoice", "issue", job, "--yes", "--to", blocked / "invoices")
    assert code == 1
    assert out.startswith("Invoice 2026-0001 to Jo Alder: 159.38 USD")
    assert err.startswith("coatbook: invoice 2026-0001 is issued and stands, but its PDF is not written: cannot write ")
    assert err.endswith("and give `coatbook invoice print 2026-0001 --to FOLDER`\n")
    assert err.count("\n") == 1
    assert coatbook("invoice", "print", "2026-0001", "--to", "invoices") == (
        "Written to invoices/invoice-2026-0001.pdf.\n"
    )


def test_a_journal_is_exported_once(
    shop: Book, coatbook: Command, command: Callable[..., Outcome], tmp_path: Path, book_path: Path
) -> None:
    journal = tmp_path / "journal.csv"
    coatbook("export", "journal", "2026-03", "--to", journal)
    content = journal.read_bytes()
    code, _, err = command("export", "journal", "2026-03", "--to", journal)
    assert (code, "already, byte for byte" in err) == (0, True)
    journal.write_bytes(b"notes")
    for path, told in ((journal, "there is another file at"), (book_path, "may be a book")):
        code, _, err = command("export", "journal", "2026-03", "--to", path)
        assert (code, told in err) == (1, True)
    assert journal.read_bytes() == b"notes" != content


@pytest.fixture
def due(shop: Book, command: Callable[..., Outcome], monkeypatch: pytest.MonkeyPatch) -> None:
    """A coating whose wash falls due: there is an owner to be told."""
    job = new_job(shop, "2026-03-10", ("coating", ("left wing",)))
    begin(shop, "2026-03-10", job)
    lay(shop, "2026-03-10", job, "left wing")
    monkeypatch.setenv("COATBOOK_TODAY", "2026-09-15")


def test_messages_that_cannot_be_written_wait(due: None, command: Callable[..., Outcome], blocked: Path) -> None:
    code, out, err = command("remind", "send", "--outbox", blocked, "--yes")
    assert (code, out.count("later")) == (1, 1)
    assert err == (
        "coatbook: 1 message could not be written: what waits goes with the next `coatbook remind send`, "
        "once the outbox folder can be written\n"
    )
    code, out, err = command("remind", "send", "--outbox", "outbox", "--yes")
    assert (code, out, err) == (0, "Message 1 to jo@example.com: sent (written to outbox/message-00001.eml).\n", "")
    assert command("remind", "send", "--outbox", "outbox", "--yes")[:2] == (0, "Nothing to send.\n")


def test_a_message_of_another_book_is_never_replaced(due: None, command: Callable[..., Outcome]) -> None:
    outbox = Path("outbox")
    outbox.mkdir()
    (outbox / "message-00001.eml").write_text("another shop's")
    code, out, _ = command("remind", "send", "--outbox", outbox, "--yes")
    assert (code, "there is another file at outbox/message-00001.eml already" in out) == (1, True)
    assert (outbox / "message-00001.eml").read_text() == "another shop's"
    assert command("remind", "send", "--outbox", "elsewhere", "--yes")[0] == 0
