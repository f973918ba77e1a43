"""The invoice: one sentence that says it all, the parties and the aircraft, the lines, and what they come to."""

import datetime as dt
from dataclasses import dataclass, replace

from coatbook.billing.record import InvoiceRecord
from coatbook.paper import words
from coatbook.paper.fonts import check_glyphs
from coatbook.paper.invoice_lines import draw_lines, draw_totals
from coatbook.paper.invoice_words import aircraft_and_work, authorities, by_when, how_to_pay, opening, part_of_job
from coatbook.paper.pdf import Identity, pdf_bytes, readable_ink
from coatbook.paper.sheet import BLACK, BODY, LABEL, SENTENCE, SMALL, STRONG, Sheet, Style, wrap

_TAX_NOTE = "Tax treatment is the shop's to confirm locally."
_FACT_COLUMN = 102.0  # the same for the facts in the right half
_COLUMN = 76.0  # from the left margin to the text beside a label or title


def check_invoice(record: InvoiceRecord) -> None:
    """See, before it is issued, that every character of an invoice can be printed, the locale's own words included.

    Raises:
        Refusal: a character is missing from the typeface; the sentence names it and what to do.
        Misuse: the shop's locale or paper is not known.
    """
    check_glyphs(record)
    locale = record.shop.locale
    check_glyphs((words.money(record.gross, locale), *words.every_long_date(locale)))
    Sheet(record.shop.paper, "")


def draw_invoice(record: InvoiceRecord) -> bytes:
    """The invoice as a PDF file, drawn from the frozen record alone: the same record, the same bytes."""
    title = f"Invoice {record.number}"
    sheet = Sheet(record.shop.paper, f"{title}, continued")
    heading = replace(STRONG, ink=readable_ink(record.shop.color, BLACK))
    _letterhead(sheet, record, heading)
    _sentence(sheet, record, title, heading)
    _facts(sheet, record)
    draw_lines(sheet, record, record.shop.locale)
    draw_totals(sheet, record, record.shop.locale, by_when(record) if record.balance else "")
    _notes(sheet, record, heading)
    identity = Identity(
        title=f"{title}, {record.shop.name}",
        author=record.shop.name,
        subject=opening(record),
        date=record.date,
        foot=title,
        aside=f"Chain head {record.head}",
    )
    return pdf_bytes(sheet, identity)


@dataclass(frozen=True, slots=True)
class _Cell:
    """A label (may be empty) and one line of text beside it."""

    label: str
    text: str
    style: Style = BODY


def _cells(label: str, text: str, width: float, style: Style = BODY) -> list[_Cell]:
    lines = wrap(text, width, style)
    return [_Cell(label if at == 0 else "", line, style) for at, line in enumerate(lines)]


def _block(label: str, texts: tuple[str, ...], width: float) -> list[_Cell]:
    """Several lines of text under one label."""
    cells = [cell for text in texts for cell in _cells("", text, width)]
    return [replace(cells[0], label=label), *cells[1:]] if cells else []


def _side_by_side(
    sheet: Sheet, left: list[_Cell], right: list[_Cell], indents: tuple[float, float], leading: float
) -> None:
    """Two columns of labelled lines; both go on to the next page where this one ends.

    On each page the left column is placed before the right, so that text copied or read aloud keeps its order.
    """
    while left or right:
        sheet.room(leading)
        fitting = max(1, int((sheet.bottom - sheet.y + 0.01) // leading))
        top = sheet.y
        for cells, x, indent in ((left, sheet.left, indents[0]), (right, _middle(sheet), indents[1])):
            for row, cell in enumerate(cells[:fitting]):
                sheet.y = top + row * leading
                sheet.put(cell.label, x, replace(LABEL, leading=leading))
                sheet.put(cell.text, x + indent, replace(cell.style, leading=leading))
        sheet.y = top + min(fitting, max(len(left), len(right))) * leading
        left, right = left[fitting:], right[fitting:]


def _middle(sheet: Sheet) -> float:
    """Where the right half of the page's head begins."""
    return sheet.left + sheet.width * 0.56


def _letterhead(sheet: Sheet, record: InvoiceRecord, heading: Style) -> None:
    """Who the shop is: its name to the left, where it is and how to reach it to the right."""
    shop, middle = record.shop, _middle(sheet)
    name_style = replace(heading, size=10.5)
    tax_number = f"Tax number {shop.tax_number}" if shop.tax_number else None
    by_phone_and_mail = ", ".join(filter(None, (shop.phone, shop.email)))
    reach = tuple(filter(None, (*shop.address, by_phone_and_mail, tax_number)))
    name = _cells("", shop.name, middle - sheet.left - 24, name_style)
    contact = [cell for text in reach for cell in _cells("", text, sheet.right - middle, SMALL)]
    _side_by_side(sheet, name, contact, (0, 0), 12.0)
    sheet.down(14)


def _sentence(sheet: Sheet, record: InvoiceRecord, title: str, heading: Style) -> None:
    """The quiet title and the sentence that says it all."""
    locale = record.shop.locale
    sheet.put(title, sheet.left, heading)
    sheet.down(heading.leading + 5)
    pieces = (words.long_date(record.handed_over, locale), words.long_date(record.due, locale))
    text = words.kept_together(opening(record), *pieces)
    sheet.paragraph(text, sheet.left, sheet.width, SENTENCE)
    if record.shared is not None:
        sheet.down(3)
        sheet.paragraph(part_of_job(record), sheet.left, sheet.width, BODY)
    sheet.down(8)
    sheet.rule()
    sheet.down(8)


def _facts(sheet: Sheet, record: InvoiceRecord) -> None:
    """Who is billed, by which number and when; and which aircraft, where, from when to when."""
    left = _billed(record, _middle(sheet) - sheet.left - _COLUMN - 14)
    right_width = sheet.right - _middle(sheet) - _FACT_COLUMN
    right = [cell for label, text in aircraft_and_work(record) for cell in _cells(label, text, right_width)]
    _side_by_side(sheet, left, right, (_COLUMN, _FACT_COLUMN), BODY.leading)
    sheet.down(10)


def _billed(record: InvoiceRecord, width: float) -> list[_Cell]:
    def day(date: dt.date) -> str:
        return words.long_date(date, record.shop.locale)

    customer = record.customer
    reach = tuple(filter(None, (*customer.address, customer.phone, customer.email)))
    return [
        *_cells("Billed to", customer.name, width, STRONG),
        *_block("", reach, width),
        _Cell("", ""),
        *_cells("Number", record.number, width),
        *_cells("Date", day(record.date), width),
        *_cells("Due", day(record.due), width),
    ]


def _notes(sheet: Sheet, record: InvoiceRecord, heading: Style) -> None:
    """How to pay, then what keeps the coating's terms, who passed a gate, and the cautions."""
    sheet.down(10)
    for title, texts, style in (
        ("How to pay", how_to_pay(record), BODY),
        ("Upkeep", record.upkeep, BODY),
        ("On authority", authorities(record), BODY),
        ("Please note", (*record.cautions, _TAX_NOTE), SMALL),
    ):
        _note(sheet, title, texts, heading, style)


def _note(sheet: Sheet, title: str, texts: tuple[str, ...], heading: Style, style: Style) -> None:
    """A title in the margin column and paragraphs beside it."""
    if not texts:
        return
    x = sheet.left + _COLUMN
    lines = sum(len(wrap(text, sheet.right - x, style)) for text in texts)
    sheet.room(min(lines, 6) * style.leading)
    sheet.put(title, sheet.left, replace(heading, leading=style.leading))
    for text in texts:
        sheet.paragraph(text, x, sheet.right - x, style)
        sheet.down(2 if style is BODY else 0)
    sheet.down(6)
