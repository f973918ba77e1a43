"""The invoice: what it says, how it flows over pages, and that the same record gives the same bytes."""

import datetime as dt
import io
import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from decimal import Decimal

import pytest
from pypdf import PdfReader

from coatbook.billing.record import Exempted, InvoiceRecord, Received, Shared, Tax, WorkedAircraft
from coatbook.paper import invoice as paper_invoice
from coatbook.paper import words
from coatbook.paper.invoice import check_invoice, draw_invoice
from coatbook.paper.invoice_words import opening
from coatbook.paper.pdf import Identity, pdf_bytes
from coatbook.paper.sheet import PAPERS, SIDE, Rule, Sheet
from coatbook.values import Misuse, Money, Price, Quantity, Refusal
from coatbook.values.frozen import dump, load

from .conftest import LINES, line, totals_of


def pages_of(record: InvoiceRecord) -> list[str]:
    reader = PdfReader(io.BytesIO(draw_invoice(record)))
    return [page.extract_text() for page in reader.pages]


def text_of(record: InvoiceRecord) -> str:
    """All text of the invoice, blanks and line ends as single blanks."""
    return " ".join(" ".join(pages_of(record)).split())


def sheet_of(record: InvoiceRecord, monkeypatch: pytest.MonkeyPatch) -> Sheet:
    """The marks an invoice is drawn from."""
    caught: list[Sheet] = []

    def catch(sheet: Sheet, identity: Identity) -> bytes:
        caught.append(sheet)
        return pdf_bytes(sheet, identity)

    monkeypatch.setattr(paper_invoice, "pdf_bytes", catch)
    draw_invoice(record)
    return caught[0]


def assert_within_margins(sheet: Sheet) -> None:
    width, height = PAPERS[sheet.paper]
    for page in sheet.pages:
        for mark in page:
            assert mark.x >= SIDE - 0.01
            assert mark.x + mark.width <= width - SIDE + 0.01, mark
            assert 36 <= mark.y <= (sheet.bottom + 8 if isinstance(mark, Rule) else sheet.bottom) <= height - 36, mark


def sixty_lines(record: InvoiceRecord) -> InvoiceRecord:
    lines = tuple(line(f"Prep polish of panel {n}", f"{n}.5 ft2", "7.25", "1 ft2") for n in range(1, 61))
    return replace(record, **totals_of(lines))  # type: ignore[arg-type]


def greek(record: InvoiceRecord) -> InvoiceRecord:
    """The same work in euro, by a Greek shop for someone with accents in the name."""

    def euro(money: Money) -> Money:
        return Money(money.minor, "EUR")

    lines = tuple(
        replace(item, net=euro(item.net), price=Price(euro(item.price.money), item.price.per)) for item in record.lines
    )
    net = euro(record.net)
    tax = net.times(24, 100)
    return replace(
        record,
        shop=replace(record.shop, name="Καθαρή Γραμμή", locale="el_GR", paper="A4", color=None),
        customer=replace(record.customer, name="Αερολέσχη Οδυσσέας, Łukasz Žižka και Đặng Thị Hương"),
        currency="EUR",
        aircraft=WorkedAircraft("SX-ABC", "Piper", "PA-28-181", "28-0000000", 1979),
        lines=lines,
        net=net,
        taxes=(Tax("GR", "ΦΠΑ", Decimal("0.24"), net, tax),),
        tax=tax,
        gross=net + tax,
    )


def test_it_opens_with_the_sentence_that_says_it_all(invoice: InvoiceRecord) -> None:
    said = (
        "For oxidation removal and coating of N123AB, handed over on July 17, 2026: $4,546.38, due by August 16, 2026."
    )
    assert opening(invoice) == said
    assert said in text_of(invoice)


def test_the_sentence_for_other_terms(invoice: InvoiceRecord) -> None:
    assert opening(replace(invoice, due=invoice.date)).endswith("$4,546.38, due on receipt.")
    assert opening(replace(invoice, gross=Money.zero("USD"))).endswith("no charge, nothing is due.")
    unmarked = replace(invoice, aircraft=replace(invoice.aircraft, mark=None))
    assert "coating of Cessna 172N serial 17270001, handed" in opening(unmarked)
    named = replace(invoice, asked_for="N123AB: oxidation removal")
    assert opening(named).startswith("For N123AB: oxidation removal, handed")


@pytest.mark.parametrize("make", [lambda record: record, sixty_lines, greek], ids=["letter", "sixty", "greek"])
def test_every_amount_and_fact_is_on_paper(invoice: InvoiceRecord, make: object) -> None:
    record = make(invoice)  # type: ignore[operator]
    check_invoice(record)
    text, locale = text_of(record), record.shop.locale
    amounts = [
        record.net,
        record.gross,
        record.tax,
        *(tax.base for tax in record.taxes),
        *(x.net for x in record.lines),
    ]
    days = [words.long_date(day, locale) for day in (record.date, record.due, record.arrived, record.handed_over)]
    craft = record.aircraft
    facts = [craft.mark, craft.maker, craft.model, craft.serial, str(craft.year), record.number, record.head]
    told = [words.quantity(item.quantity, locale) for item in record.lines]
    prices = [words.price(item.price, locale) for item in record.lines if item.quantity != Quantity.of(1, "each")]
    notes = [*record.place_of_work, *record.shop.pay_how, *record.upkeep, *record.cautions, record.customer.name]
    taxes = [words.rate(tax.rate, locale) for tax in record.taxes] + [tax.place for tax in record.taxes]
    expected = [words.money(amount, locale) for amount in amounts]
    for piece in [*expected, *days, *facts, *told, *prices, *notes, *taxes, record.shop.name]:
        assert piece is not None
        assert " ".join(piece.split()) in text, piece


def test_the_balance_stands_last_among_the_sums(invoice: InvoiceRecord) -> None:
    text = text_of(invoice)
    order = ["Net before tax", "8.25% of $4,199.89", "Total", "Payments received none", "Balance due", "How to pay"]
    places = [text.index(part) for part in order]
    assert places == sorted(places)
    assert text.count("Balance due") == 1
    assert "Please quote 2026-0001. Due by August 16, 2026, 30 days from the date of this invoice." in text


def test_the_amounts_of_the_sample_by_hand(invoice: InvoiceRecord) -> None:
    """385.00 + 174.5 x 7.25 + 236 x 4.10 + 236 x 5.85 + 21/16 x 45.00 + 1.5 x 95.00, each rounded half up."""
    nets = [str(item.net) for item in invoice.lines]
    assert nets == ["385.00", "1265.13", "967.60", "1380.60", "59.06", "142.50"]
    assert (str(invoice.net), str(invoice.tax), str(invoice.gross)) == ("4199.89", "346.49", "4546.38")


def test_no_tax_is_said(invoice: InvoiceRecord) -> None:
    text = text_of(replace(invoice, taxes=(), tax=Money.zero("USD"), gross=invoice.net))
    assert "No tax charged." in text
    assert "Tax treatment is the shop's to confirm locally." in text


def test_an_authority_is_printed_with_its_day_in_the_long_form(invoice: InvoiceRecord) -> None:
    kept = "Film gate of left wing passed on 2026-07-12 by A. Mechanic, 0000000, on order 2026-07-01: it comes off"
    said = kept.replace("2026-07-12", "July 12, 2026")
    assert f"On authority {said}." in text_of(replace(invoice, authorities=(kept,)))


def test_an_invoice_of_the_usual_length_fits_one_page(invoice: InvoiceRecord) -> None:
    usual = replace(invoice, **totals_of(invoice.lines[:4]))  # type: ignore[arg-type]
    assert len(pages_of(usual)) == 1


def test_authorities_are_printed(invoice: InvoiceRecord) -> None:
    said = "Polish of the left aileron on authority of A. Mechanic, certificate 0000000."
    assert f"On authority {said}" in text_of(replace(invoice, authorities=(said,)))


def test_without_payment_lines_it_says_whom_to_ask(invoice: InvoiceRecord) -> None:
    text = text_of(replace(invoice, shop=replace(invoice.shop, pay_how=())))
    assert "Ask us how to pay: 512-555-0142 or desk@clearline.example.com." in text


@pytest.mark.parametrize(("paper", "size"), [("Letter", (612.0, 792.0)), ("A4", (595.28, 841.89))])
def test_the_paper_is_the_shops(invoice: InvoiceRecord, paper: str, size: tuple[float, float]) -> None:
    record = replace(invoice, shop=replace(invoice.shop, paper=paper))
    box = PdfReader(io.BytesIO(draw_invoice(record))).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


def test_sixty_lines_flow_over_pages_under_repeated_headings(
    invoice: InvoiceRecord, monkeypatch: pytest.MonkeyPatch
) -> None:
    record = sixty_lines(invoice)
    pages = pages_of(record)
    assert len(pages) >= 2
    for number, page in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in page
        assert invoice.head in page
        assert ("Quantity" in page) == ("of panel" in page)
    assert all("continued" in page for page in pages[1:])
    assert [int(n) for n in re.findall(r"of panel (\d+)", "\n".join(pages))] == list(range(1, 61))
    assert_within_margins(sheet_of(record, monkeypatch))


LONG = "The Estate of Bartholomew Featherstonehaugh and the Upper Millbrook Vintage Aeroplane Society " + "W" * 100


def test_long_names_wrap_inside_the_margins(invoice: InvoiceRecord, monkeypatch: pytest.MonkeyPatch) -> None:
    record = replace(
        invoice,
        shop=replace(invoice.shop, name=LONG, address=(LONG, LONG), pay_how=(LONG,), color="#ffdd00"),
        customer=replace(invoice.customer, name=LONG, address=(LONG,) * 30, email=f"{'o' * 60}@example.com"),
        asked_for=LONG,
        place_of_work=(LONG,),
        aircraft=replace(invoice.aircraft, maker=LONG, model=LONG, serial="7" * 80),
        upkeep=(LONG * 20,),
    )
    assert_within_margins(sheet_of(record, monkeypatch))
    assert LONG.replace(" ", "") in text_of(record).replace(" ", "")


def test_a_line_longer_than_a_page_goes_on_the_next(invoice: InvoiceRecord, monkeypatch: pytest.MonkeyPatch) -> None:
    lines = (line("polish " * 500, "1 each", "385.00", "1 each"),)
    record = replace(invoice, **totals_of(lines))  # type: ignore[arg-type]
    sheet = sheet_of(record, monkeypatch)
    assert_within_margins(sheet)
    assert text_of(record).count("polish") == 500


def test_huge_figures_are_set_smaller_and_never_broken(invoice: InvoiceRecord, monkeypatch: pytest.MonkeyPatch) -> None:
    modest = line("Too much", "1 ft2", "9999999.99", "1 ft2")  # more than can be typed comes from old records only
    vast = Quantity.of(999_999_999, "ft2")
    lines = (replace(modest, quantity=vast, net=modest.price.of(vast)),)
    net = lines[0].net
    record = replace(invoice, lines=lines, net=net, taxes=(), tax=Money.zero("USD"), gross=net)
    assert_within_margins(sheet_of(record, monkeypatch))
    assert words.money(net, "en_US") in text_of(record)


def test_names_that_look_like_marks_of_the_library_stay_names(invoice: InvoiceRecord) -> None:
    odd = "Club {nb} **bold** <b>tag</b> \\(paren) %s"
    assert odd in text_of(replace(invoice, customer=replace(invoice.customer, name=odd)))


def test_the_same_record_gives_the_same_bytes(invoice: InvoiceRecord) -> None:
    assert draw_invoice(invoice) == draw_invoice(invoice)


def test_one_of_several_says_its_part_and_who_else_is_asked(invoice: InvoiceRecord) -> None:
    lines = tuple(replace(one, net=one.net.times(6, 10), whole=one.net) for one in LINES)
    net = sum((one.net for one in lines), Money.zero("USD"))
    shared = Shared(Decimal("0.6"), Money.zero("USD"), invoice.net, ("Jo Alder", "Birch Air"))
    record = replace(invoice, **totals_of(lines), shared=shared)  # type: ignore[arg-type]
    text = text_of(record)
    said = "60% of the job's lines: $2,519.94 of $4,199.89 before tax; the rest is invoiced to Jo Alder and Birch Air."
    assert net == Money.parse("2519.94", "USD")
    assert said in text
    assert "Wash and decontamination, whole aircraft, part of $385.00 1 $385.00 $231.00" in text
    fixed = replace(record, shared=replace(shared, fraction=None))
    assert "A fixed sum of the job's lines: $2,519.94 of $4,199.89" in text_of(fixed)
    after = replace(record, shared=replace(shared, fixed=Money.parse("100.00", "USD")))
    assert "60% of the job's lines after fixed sums of $100.00: $2,519.94" in text_of(after)


def test_deposits_come_off_the_balance(invoice: InvoiceRecord, monkeypatch: pytest.MonkeyPatch) -> None:
    came = (Received(dt.date(2026, 7, 2), Money.parse("500.00", "USD")),)
    record = replace(invoice, received=came)
    text = text_of(record)
    assert opening(record).endswith(": $4,046.38, due by August 16, 2026, after a deposit of $500.00.")
    assert "Total $4,546.38 Deposit received July 2, 2026 -$500.00 " in text
    assert "Balance due by August 16, 2026" in text
    assert text.count("$4,046.38") == 2
    assert "Payments received" not in text
    whole = replace(record, received=(*came, Received(dt.date(2026, 7, 9), Money.parse("4046.38", "USD"))))
    assert opening(whole).endswith(": $4,546.38, paid by deposits; nothing is due.")
    assert text_of(whole).count("$0.00") == 1
    assert "How to pay" not in text_of(whole)
    assert_within_margins(sheet_of(whole, monkeypatch))


def test_an_exemption_states_reason_and_certificate(invoice: InvoiceRecord) -> None:
    why = Exempted("US-TX", "flying school", "01-339-118")
    said = "No tax of US-TX: flying school, certificate 01-339-118."
    untaxed = replace(invoice, taxes=(), tax=Money.zero("USD"), gross=invoice.net, exempted=why)
    assert said in text_of(untaxed)
    assert "No tax charged." not in text_of(untaxed)
    assert said in text_of(replace(invoice, exempted=why))  # beside the tax of a wider place


def test_a_record_of_an_earlier_version_is_read_and_drawn_the_same(invoice: InvoiceRecord) -> None:
    later = ("shared", "exempted", "received", "brought_in")
    kept = {name: value for name, value in json.loads(dump(invoice)).items() if name not in later}
    for one in kept["lines"]:
        del one["whole"]
    read = load(InvoiceRecord, json.dumps(kept))
    assert read == invoice
    assert draw_invoice(read) == draw_invoice(invoice)


SCRIPT = """
import sys
from coatbook.billing.record import InvoiceRecord
from coatbook.paper.invoice import draw_invoice
from coatbook.values.frozen import load
sys.stdout.buffer.write(draw_invoice(load(InvoiceRecord, sys.stdin.buffer.read().decode())))
"""


@pytest.mark.parametrize(("zone", "seed"), [("Pacific/Kiritimati", "1"), ("America/Anchorage", "4242")])
def test_another_process_zone_and_hash_seed_give_the_same_bytes(invoice: InvoiceRecord, zone: str, seed: str) -> None:
    record = greek(invoice)
    ran = subprocess.run(
        [sys.executable, "-c", SCRIPT],
        input=dump(record).encode(),
        capture_output=True,
        env=os.environ | {"TZ": zone, "PYTHONHASHSEED": seed},
        check=True,
    )
    assert ran.stdout == draw_invoice(record)


def test_the_file_says_what_it_is(invoice: InvoiceRecord) -> None:
    reader = PdfReader(io.BytesIO(draw_invoice(invoice)))
    about = reader.metadata
    assert about is not None
    assert about.title == "Invoice 2026-0001, Clearline Aircraft Finish"
    assert about.author == "Clearline Aircraft Finish"
    assert about.producer == "coatbook"
    assert about.creation_date == dt.datetime(2026, 7, 17, 12, tzinfo=dt.UTC)
    assert reader.root_object["/Lang"] == "en-US"


def test_what_cannot_be_printed_is_refused_before_issue(invoice: InvoiceRecord) -> None:
    with pytest.raises(Refusal, match=r"U\+6F22"):
        check_invoice(replace(invoice, customer=replace(invoice.customer, name="漢字 Aviation")))
    with pytest.raises(Refusal, match="cannot be printed"):
        check_invoice(replace(invoice, shop=replace(invoice.shop, locale="ja_JP")))
    with pytest.raises(Misuse, match="is not a locale"):
        check_invoice(replace(invoice, shop=replace(invoice.shop, locale="xx_YY")))
    with pytest.raises(Misuse, match="Letter"):
        check_invoice(replace(invoice, shop=replace(invoice.shop, paper="Folio")))


def test_a_line_sold_by_the_piece_shows_a_bare_number(invoice: InvoiceRecord) -> None:
    assert LINES[0].quantity == Quantity.of(1, "each")
    assert "Wash and decontamination, whole aircraft 1 $385.00 $385.00" in text_of(invoice)
    lines = (line("Wheel pants", "3 each", "40.00", "1 each"),)
    assert "Wheel pants 3 $40.00 each $120.00" in text_of(replace(invoice, lines=lines))
