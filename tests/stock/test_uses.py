"""What a use draws on: the shop's own, not too old, the oldest first; anything else only if it is named."""

import datetime as dt

import pytest

from coatbook.jobs import diary
from coatbook.store.book import Book
from coatbook.values import Refusal
from desk.shopfloor import do, quantity, use
from stock.shelf import buy, left


def use_of(book: Book, day: str, typed: str, lot: str) -> str:
    return do(book, day, diary.log_use, job=1, material="sealant", quantity=quantity(typed), lot=lot).text


@pytest.fixture
def aging(shop: Book) -> Book:
    """Beside B-204, which has no last day, a lot that may be used through June and one bought after it."""
    buy(shop, "2026-02-01", "1 pt", "30.00", "OLD", expires=dt.date(2026, 6, 30))
    buy(shop, "2026-05-01", "1 qt", "64.00", "NEW", expires=dt.date(2027, 6, 30))
    return shop


def test_the_last_day_on_the_label_still_counts(aging: Book) -> None:
    use(aging, "2026-06-30", "4 fl oz")
    assert left(aging)["OLD"] == ("12 fl oz", 2250)


def test_a_lot_too_old_is_passed_over_and_told(aging: Book) -> None:
    told = do(aging, "2026-07-01", diary.log_use, job=1, material="sealant", quantity=quantity("4 fl oz")).text
    assert told == (
        "Note: lot OLD of Paint sealant expired on 2026-06-30 and was passed over; `coatbook material expire "
        "sealant:OLD` writes it off.\nLine 1, job 1: 4 fl oz of Paint sealant used, 6.00."
    )
    assert left(aging) == {"OLD": ("16 fl oz", 3000), "B-204": ("28 fl oz", 4200), "NEW": ("32 fl oz", 6400)}


def test_if_only_what_is_too_old_is_left_the_use_is_refused(aging: Book) -> None:
    use(aging, "2026-07-01", "64 fl oz")
    with pytest.raises(
        Refusal,
        match="0 fl oz of Paint sealant that may be used were on hand on 2026-07-02, 1 fl oz are asked for, and lot "
        "OLD expired on 2026-06-30: write it off with `coatbook material expire sealant:OLD`, or name it with "
        '--lot "OLD"',
    ):
        use(aging, "2026-07-02", "1 fl oz")


def test_a_lot_too_old_is_used_if_it_is_named(aging: Book) -> None:
    told = use_of(aging, "2026-07-01", "4 fl oz", "old")
    assert told.startswith("Note: lot OLD of Paint sealant expired on 2026-06-30; whether it may still be used, its")
    assert left(aging)["OLD"] == ("12 fl oz", 2250)


def test_a_named_lot_is_drawn_before_older_ones(aging: Book) -> None:
    use_of(aging, "2026-05-02", "4 fl oz", "NEW")
    assert left(aging) == {"OLD": ("16 fl oz", 3000), "B-204": ("32 fl oz", 4800), "NEW": ("28 fl oz", 5600)}
    with pytest.raises(Refusal, match="28 fl oz of Paint sealant were on hand in lot NEW on 2026-05-03, 30 fl oz are"):
        use_of(aging, "2026-05-03", "30 fl oz", "NEW")


def test_two_purchases_of_one_label_are_one_to_a_use(shop: Book) -> None:
    buy(shop, "2026-05-01", "1 pt", "32.00", "B-204")
    use_of(shop, "2026-05-02", "40 fl oz", "B-204")
    assert left(shop) == {"B-204": ("8 fl oz", 1600)}  # of the later one


def test_a_use_beyond_stock_names_what_helps(shop: Book) -> None:
    with pytest.raises(
        Refusal,
        match="32 fl oz of Paint sealant were on hand on 2026-05-02, 33 fl oz are asked for: write what was bought "
        "with `coatbook material buy sealant QUANTITY COST --estimated`, or what is there with `coatbook "
        "material count sealant QUANTITY --why …`",
    ):
        use(shop, "2026-05-02", "33 fl oz")


def test_an_unknown_lot_is_refused(shop: Book) -> None:
    with pytest.raises(Refusal, match="Paint sealant had no lot 'X-1' on 2026-05-02: `coatbook material show sealant`"):
        use_of(shop, "2026-05-02", "1 fl oz", "X-1")
    buy(shop, "2026-05-03", "1 pt", "32.00", "X-1")
    with pytest.raises(Refusal, match="had no lot 'X-1' on 2026-05-02"):
        use_of(shop, "2026-05-02", "1 fl oz", "X-1")
