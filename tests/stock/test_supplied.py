"""What a customer supplies: tracked, without cost, on the customer's own jobs only, and without terms of the shop's."""

import datetime as dt

import pytest

from coatbook.billing import journal
from coatbook.desk.sheets import job_sheet
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.jobs.views import find_job
from coatbook.store.book import Book
from coatbook.upkeep.views import CoatingView, coatings_of
from coatbook.values import Misuse, Refusal
from desk.shopfloor import TODAY, agree, derived, do, new_job, quantity, strike, use
from stock.shelf import buy, count, expire, give_back, left, lot, reprice, shelf


@pytest.fixture
def supplied(shop: Book) -> Book:
    """A quart of the sealant that Jo Alder, who owns the aircraft, supplied."""
    buy(shop, "2026-05-01", "1 qt", None, "A-7", supplied_by="alder")
    return shop


def use_of(book: Book, day: str, lot_: str, job: int = 1) -> None:
    do(book, day, diary.log_use, job=job, material="sealant", quantity=quantity("4 fl oz"), lot=lot_)


def coat(book: Book, job: int, label: str, surface: str, layer: int = 1) -> None:
    values = {"material": "sealant", "surfaces": [surface], "label": label, "layer": layer}
    do(book, "2026-05-04", diary.log_coat, job=job, **values)


def coatings(book: Book) -> dict[str, CoatingView]:
    with book.read() as session:
        return {one.surface: one for one in coatings_of(session, 1, TODAY)}


def test_it_is_on_the_shelf_at_no_cost(supplied: Book) -> None:
    found = lot(supplied, "A-7")
    assert (found.minor, found.supplier, found.supplied_by) == (0, "Jo Alder", "alder")
    view = shelf(supplied)
    assert (str(view.on_hand), str(view.usable), view.value) == ("64 fl oz", "32 fl oz", 4800)
    with supplied.read() as session:
        assert sum(line.minor for line in journal.postings(session, TODAY) if line.account == journal.STOCK) == 4800


def test_a_use_takes_it_only_if_named_and_at_no_cost(supplied: Book) -> None:
    use(supplied, "2026-05-02", "32 fl oz")
    with pytest.raises(Refusal, match=r"32 fl oz are asked for; Jo Alder's own is drawn only if --lot names it: write"):
        use(supplied, "2026-05-02", "32 fl oz")
    use_of(supplied, "2026-05-03", "A-7")
    assert left(supplied) == {"B-204": ("0 fl oz", 0), "A-7": ("28 fl oz", 0)}


def test_it_goes_on_no_other_customers_job(supplied: Book) -> None:
    buy(supplied, "2026-05-01", "1 qt", None, "C-1", supplied_by="birch")
    with pytest.raises(
        Refusal, match="lot C-1 of Paint sealant is Birch Flying Club's own, who is no party to this jo"
    ):
        use_of(supplied, "2026-05-03", "C-1")
    do(supplied, "2026-05-03", jobs.set_party, job=1, role="pays", customer="birch")
    use_of(supplied, "2026-05-03", "C-1")
    assert left(supplied)["C-1"] == ("28 fl oz", 0)


def test_a_coating_laid_from_it_has_no_terms_of_ours(supplied: Book) -> None:
    job = new_job(supplied, "2026-05-02", ("coating", ("left wing", "elevator")))
    agree(supplied, "2026-05-03", job)
    do(supplied, "2026-05-03", jobs.arrive, job=job, by="Sam Reed")
    coat(supplied, job, "B-204", "left wing")
    coat(supplied, job, "a-7", "elevator")
    found = coatings(supplied)
    assert [term.item for term in found["left wing"].terms] == ["wash"]
    assert (found["elevator"].terms, found["elevator"].supplied) == ((), True)
    coat(supplied, job, "A-7", "left wing", layer=2)  # one coat of theirs is enough
    assert coatings(supplied)["left wing"].terms == ()
    strike(supplied, "last")
    assert coatings(supplied)["left wing"].terms != ()


def test_the_invoice_promises_nothing_of_it(supplied: Book) -> None:
    job = new_job(supplied, "2026-05-02", ("coating", ("elevator",)))
    agree(supplied, "2026-05-03", job)
    do(supplied, "2026-05-03", jobs.arrive, job=job, by="Sam Reed")
    coat(supplied, job, "A-7", "elevator")
    with supplied.read() as session:
        sheet = job_sheet(session, find_job(session, job), TODAY, "USD")
    assert sheet.coatings == ()
    product = next(one for one in sheet.stock if one.code == "sealant")
    assert str(product.on_hand) == "32 fl oz"
    assert product.price is not None
    assert str(product.price) == "48.00 per 32 fl oz"


def test_it_is_counted_by_name_and_goes_back_for_nothing(supplied: Book) -> None:
    assert "the book had 32 fl oz: 2 fl oz are missing" in count(supplied, "2026-05-04", "30 fl oz")
    assert left(supplied)["A-7"] == ("32 fl oz", 0)
    count(supplied, "2026-05-04", "31 fl oz", "A-7")
    with pytest.raises(Refusal, match="is Jo Alder's own and cost nothing: nobody credits it"):
        give_back(supplied, "2026-05-05", "A-7", "1 fl oz", "1.00")
    assert give_back(supplied, "2026-05-05", "A-7", "30 fl oz", "0").startswith("Back to Jo Alder: 30 fl oz")
    expire(supplied, "2026-05-06", "A-7", "dried up")
    assert left(supplied)["A-7"] == ("0 fl oz", 0)
    with pytest.raises(Refusal, match="is Jo Alder's own and has no price"):
        reprice(supplied, "2026-05-06", "A-7", "1.00")


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"cost": "5.00"}, "what Jo Alder supplies costs the shop nothing: leave out COST"),
        ({"estimated": True}, "what Jo Alder supplies costs the shop nothing"),
        ({"tax_paid": True}, "what Jo Alder supplies costs the shop nothing"),
        ({"supplier": "Low Road"}, "it is Jo Alder who supplies it: give --supplier or --supplied-by, not both"),
    ],
)
def test_what_is_supplied_has_no_price(shop: Book, given: dict[str, object], says: str) -> None:
    before = derived(shop)
    cost = given.pop("cost", None)
    with pytest.raises(Misuse, match=says):
        buy(shop, "2026-05-01", "1 qt", str(cost) if cost else None, "A-7", supplied_by="alder", **given)
    assert derived(shop) == before


def test_one_label_has_one_owner_and_one_last_day(supplied: Book) -> None:
    with pytest.raises(Refusal, match=r"lot B-204 of Paint sealant is the shop's own \(purchase 1\): mark this"):
        buy(supplied, "2026-05-02", "1 qt", None, "b-204", supplied_by="alder")
    with pytest.raises(Refusal, match="lot A-7 of Paint sealant is Jo Alder's own"):
        buy(supplied, "2026-05-02", "1 qt", "48.00", "A-7")
    buy(supplied, "2026-05-02", "1 qt", "48.00", "N-1", expires=dt.date(2027, 1, 1))
    buy(supplied, "2026-05-02", "1 qt", "48.00", "N-1")
    with pytest.raises(Refusal, match="lot N-1 of Paint sealant expires on 2027-01-01 by purchase 3, here on 2027-01"):
        buy(supplied, "2026-05-02", "1 qt", "48.00", "N-1", expires=dt.date(2027, 1, 31))


def test_a_handed_over_job_keeps_its_terms_when_others_supply_later(shop: Book) -> None:
    job = new_job(shop, "2026-05-02", ("coating", ("elevator",)))
    agree(shop, "2026-05-03", job)
    do(shop, "2026-05-03", jobs.arrive, job=job, by="Sam Reed")
    coat(shop, job, "B-204", "elevator")
    do(shop, "2026-05-04", jobs.hand_over, job=job, to="Jo Alder")
    buy(shop, "2026-05-05", "1 qt", None, "A-7", supplied_by="alder")
    assert [term.item for term in coatings(shop)["elevator"].terms] == ["wash"]
