"""Making a book, opening one, and bringing an older one up to date."""

from pathlib import Path

from coatbook.billing.actions import INVOICES, set_series
from coatbook.desk.all_tables import ROOMS
from coatbook.people.actions import set_up_business
from coatbook.store import upgrade
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.backup import backup
from coatbook.store.book import Book, begin, is_begun, opened, unborn
from coatbook.store.clock import Clock, zone_named
from coatbook.store.engine import engine_for, hidden, identify, is_url, new_file, remove_file
from coatbook.values import Refusal
from coatbook.values.currency import digits

FIRST_PATTERN = "{year}-{n:4}"


def default_place() -> str:
    """Where the book is when nobody says: the platform's folder for a user's data."""
    import platformdirs

    return str(Path(platformdirs.user_data_dir("coatbook", appauthor=False)) / "book.db")


def open_book(where: str, clock: Clock) -> Book:
    """Open the book at a path or URL.

    Raises:
        Refusal: there is none, it is no book, or it is of another revision; with the command that helps.
    """
    if not is_url(where):
        identify(Path(where))
    engine = engine_for(where)
    try:
        upgrade.check_current(where, engine)
        assert ROOMS  # every table is known from here on
        return opened(where, engine, clock)
    except BaseException:
        engine.dispose()
        raise


def make_book(
    where: str, clock: Clock, ask: Ask, *, currency: str, zone: str, **business: str | int | None
) -> Told[None]:
    """Make a new book with the shop's own data as its first act. A book that cannot be begun leaves no file."""
    digits(currency)
    zone_named(zone)
    if is_url(where):
        _refuse_book_there(where)
    else:
        new_file(Path(where))
    try:
        upgrade.migrate(where)
        book = unborn(where, engine_for(where), clock, currency, zone)
        try:
            return book.do(ask, _first_act, currency=currency, zone=zone, business=business)
        finally:
            book.close()
    except BaseException:
        if not is_url(where):
            remove_file(Path(where))
        raise


def _refuse_book_there(where: str) -> None:
    engine = engine_for(where)
    try:
        # Tables without a first act are what an `init` left that was refused or cut short: it may go on there.
        if upgrade.revision_of(engine) is not None and is_begun(engine):
            raise Refusal(f"there is a book at {hidden(where)} already: open it with --book")
    finally:
        engine.dispose()


def _first_act(act: OpenAct, *, currency: str, zone: str, business: dict[str, str | int | None]) -> None:
    begin(act, currency, zone)
    set_up_business(act, **business)  # type: ignore[arg-type]
    set_series(act, code=INVOICES, pattern=FIRST_PATTERN)


def upgrade_book(where: str, clock: Clock) -> str:
    """Bring an older book up to date, after a backup, and set all guards anew; what was done, as a sentence."""
    if not is_url(where):
        identify(Path(where))
    engine = engine_for(where)
    try:
        revision = upgrade.revision_of(engine)
        if revision == upgrade.NEWEST:
            upgrade.migrate(where)
            return f"The book is of the newest revision, {revision}, already; its guards are set anew."
        if revision not in upgrade.REVISIONS:
            upgrade.check_current(where, engine)
    finally:
        engine.dispose()
    assert revision is not None
    copy = upgrade.backup_name(where, revision, clock.instant())
    backup(where, revision, copy)
    upgrade.migrate(where)
    return f"The book went from revision {revision} to {upgrade.NEWEST}. The backup taken before is {copy}."
