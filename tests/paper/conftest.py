"""An invented shop, its customers, an invoice and a reminder; tests change what they are about with `replace`."""

import datetime as dt
from decimal import Decimal

import pytest

from coatbook.billing.record import InvoiceRecord, Line, Tax, WorkedAircraft
from coatbook.paper.reminder import ReminderItem, ReminderRecord
from coatbook.people.views import Person, Shop
from coatbook.values import Money, Price, Quantity


def usd(text: str) -> Money:
    return Money.parse(text, "USD")


def line(text: str, quantity: str, price: str, per: str, tax_kind: str = "work") -> Line:
    """A line whose net is its price of its quantity."""
    amount, asked = Quantity.parse(quantity), Price(usd(price), Quantity.parse(per))
    return Line("service", text, amount, asked, asked.of(amount), tax_kind)


@pytest.fixture
def shop() -> Shop:
    return Shop(
        name="Clearline Aircraft Finish",
        address=("Hangar 14, 220 Airport Road", "Millbrook, TX 78600"),
        email="desk@clearline.example.com",
        phone="512-555-0142",
        tax_number="3-20000-0000-0",
        locale="en_US",
        paper="Letter",
        color="#31556b",
        pay_how=("Bank transfer to Clearline Aircraft Finish, routing 000000000, account 0000 0000.",),
        net_days=30,
    )


@pytest.fixture
def customer() -> Person:
    return Person(
        code="prairie",
        name="Prairie Wing Flying Club",
        address=("88 Grange Lane", "Millbrook, TX 78600"),
        email="treasurer@prairiewing.example.com",
        phone="512-555-0177",
        locale="en_US",
    )


LINES = (
    line("Wash and decontamination, whole aircraft", "1 each", "385.00", "1 each"),
    line("Oxidation removal, wings upper, two passes", "174.5 ft2", "7.25", "1 ft2"),
    line("Prep polish, wings upper and fuselage top", "236 ft2", "4.10", "1 ft2"),
    line("Ceramic coating, two layers, wings upper and fuselage top", "236 ft2", "5.85", "1 ft2"),
    line("Coating used", "21 fl oz", "45.00", "16 fl oz", "material"),
    line("Windshield masking and keep-off list check", "1.5 h", "95.00", "1 h"),
)


def totals_of(lines: tuple[Line, ...]) -> dict[str, object]:
    """Net, tax at 8.25% of the net, and gross of lines, as the fields of a record."""
    net = sum((item.net for item in lines), Money.zero("USD"))
    tax = net.times(825, 10_000)
    taxes = (Tax("US-TX", "Texas sales and use tax", Decimal("0.0825"), net, tax),)
    return {"lines": lines, "net": net, "taxes": taxes, "tax": tax, "gross": net + tax}


@pytest.fixture
def invoice(shop: Shop, customer: Person) -> InvoiceRecord:
    return InvoiceRecord(
        number="2026-0001",
        date=dt.date(2026, 7, 17),
        due=dt.date(2026, 8, 16),
        currency="USD",
        shop=shop,
        customer=customer,
        job=1,
        asked_for="Oxidation removal and coating",
        aircraft=WorkedAircraft("N123AB", "Cessna", "172N", "17270001", 1978),
        place_of_work=("Millbrook Municipal Airport, Hangar 14", "Millbrook, TX"),
        arrived=dt.date(2026, 7, 13),
        handed_over=dt.date(2026, 7, 17),
        upkeep=(
            "Decontamination wash every 6 months, first by January 14, 2027, with 30 days of grace.",
            "Inspection every 12 months, first by July 14, 2027. Anyone may do the upkeep; note the day and the name.",
        ),
        cautions=(
            "Keep the coated surfaces dry for 24 hours and unwashed for 7 days.",
            "Where the maker's sheets, local codes or a licensed mechanic say otherwise, they decide.",
        ),
        authorities=(),
        head="7c1e09ab42d3",
        **totals_of(LINES),  # type: ignore[arg-type]
    )


@pytest.fixture
def reminder(shop: Shop, customer: Person) -> ReminderRecord:
    item = ReminderItem(
        uid="coating-1-decontamination-wash-1@clearline.example.com",
        aircraft="N123AB",
        surfaces="wings upper and fuselage top",
        product="two-layer ceramic coating",
        item="Decontamination wash",
        opens=dt.date(2026, 12, 15),
        due=dt.date(2027, 1, 14),
        closes=dt.date(2027, 2, 13),
        grace_days=30,
        consequence="the coating's term is shortened to the day of the miss",
    )
    return ReminderRecord(
        shop=shop,
        customer=customer,
        to_address="treasurer@prairiewing.example.com",
        message_id="<reminder-1-1@clearline.example.com>",
        date=dt.datetime(2026, 12, 15, 15, 30, tzinfo=dt.UTC),
        aircraft="N123AB",
        items=(item,),
    )
