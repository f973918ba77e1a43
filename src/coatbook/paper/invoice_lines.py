"""The lines of an invoice and what they come to: text to the left, figures in right-aligned columns."""

from dataclasses import dataclass, replace
from functools import partial

from coatbook.billing.record import InvoiceRecord, Line, Tax
from coatbook.paper import words
from coatbook.paper.fonts import text_width
from coatbook.paper.invoice_words import line_text, no_tax
from coatbook.paper.sheet import BODY, FIRM, LABEL, PALE, STRONG, SUM, Sheet, Style, wrap
from coatbook.values import Quantity

_GAP = 16.0
_LEAST_TEXT = 150.0


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the figures end (their right edges), how wide the text may be, and how the figures are set."""

    edges: tuple[float, ...]
    text: float
    figures: Style


def _figures(line: Line, locale: str) -> tuple[str, str, str]:
    """Quantity, price and amount; the price of one piece is not told as "each"."""
    one = line.quantity == Quantity.of(1, "each") == line.price.per
    price = words.money(line.price.money, locale) if one else words.price(line.price, locale)
    return words.quantity(line.quantity, locale), price, words.money(line.net, locale)


def _columns(sheet: Sheet, rows: list[tuple[str, ...]]) -> _Columns:
    """Columns as wide as their widest figure; figures too wide for the page are set smaller, never broken."""
    widths = [max(text_width(row[at], BODY.size) for row in rows) + _GAP for at in range(3)]
    scale = min(1.0, (sheet.width - _LEAST_TEXT) / sum(widths))
    widths = [width * scale for width in widths]
    edges = tuple(sheet.right - sum(widths[at + 1 :]) for at in range(3))
    return _Columns(edges, sheet.width - sum(widths), replace(BODY, size=BODY.size * scale))


def draw_lines(sheet: Sheet, record: InvoiceRecord, locale: str) -> None:
    """The table of lines; its heading stands again on every page it reaches."""
    rows = [_figures(line, locale) for line in record.lines]
    columns = _columns(sheet, [("Quantity", "Price", f"Amount, {record.currency}"), *rows])
    heading = partial(_heading, sheet, columns, record.currency)
    sheet.room(5 * BODY.leading)
    heading()
    with sheet.repeating(heading):
        for line, figures in zip(record.lines, rows, strict=True):
            _row(sheet, columns, line_text(line, locale), figures)


def _heading(sheet: Sheet, columns: _Columns, currency: str) -> None:
    sheet.put("Work and material", sheet.left, LABEL)
    _figure_cells(sheet, columns, ("Quantity", "Price", f"Amount, {currency}"), LABEL)
    sheet.down(LABEL.leading + 2)
    sheet.rule()
    sheet.down(3)


def _figure_cells(sheet: Sheet, columns: _Columns, texts: tuple[str, ...], style: Style) -> None:
    for text, edge in zip(texts, columns.edges, strict=True):
        sheet.put_right(text, edge, style)


def _row(sheet: Sheet, columns: _Columns, text: str, figures: tuple[str, ...]) -> None:
    """One line of the invoice: its figures beside the first line of its text."""
    lines = wrap(text, columns.text, BODY)
    sheet.room(min(len(lines), 3) * BODY.leading + 4)
    for at, part in enumerate(lines):
        sheet.room(BODY.leading)
        sheet.put(part, sheet.left, BODY)
        if at == 0:
            _figure_cells(sheet, columns, figures, columns.figures)
        sheet.down(BODY.leading)
    sheet.down(2)
    sheet.rule(ink=PALE)
    sheet.down(2)


def draw_totals(sheet: Sheet, record: InvoiceRecord, locale: str, by_when: str) -> None:
    """From the net sum over each tax to the total; then what came in, and the balance, once, below a firm rule."""
    money = partial(words.money, locale=locale)
    rows = [
        ("Net before tax", money(record.net)),
        *((_tax_label(tax, locale), money(tax.amount)) for tax in record.taxes),
    ]
    if no_tax(record):
        rows.append((no_tax(record), ""))
    received = [
        (f"Deposit received {words.long_date(one.day, locale)}", money(-one.amount)) for one in record.received
    ] or [("Payments received", "none")]
    start = sheet.left + sheet.width * 0.35
    laid = [(_label_lines(sheet, start, label, amount, BODY), amount) for label, amount in rows]
    height = (sum(len(lines) for lines, _ in laid) + 1 + len(received)) * BODY.leading + SUM.leading + 22
    sheet.room(min(height, sheet.bottom - 120))
    sheet.down(5)
    for lines, amount in laid:
        _sum(sheet, start, lines, amount, BODY)
    sheet.down(3)
    sheet.rule(start)
    sheet.down(3)
    _sum(sheet, start, ["Total"], money(record.gross), BODY)
    for label, amount in received:
        _sum(sheet, start, [label], amount, BODY)
    label = f"Balance due {by_when.replace(' ', words.NO_BREAK)}".strip()
    _balance(sheet, start, label, money(record.balance))


def _label_lines(sheet: Sheet, start: float, label: str, amount: str, style: Style) -> list[str]:
    """A label in lines that leave its amount free."""
    taken = text_width(amount, style.size, style.bold) + _GAP
    return wrap(label, sheet.right - start - taken, style)


def _sum(sheet: Sheet, start: float, lines: list[str], amount: str, style: Style) -> None:
    """A label in one or more lines, its amount beside the last."""
    for at, line in enumerate(lines, 1):
        sheet.room(style.leading)
        sheet.put(line, start, style)
        if at == len(lines):
            sheet.put_right(amount, sheet.right, style)
        sheet.down(style.leading)


def _tax_label(tax: Tax, locale: str) -> str:
    return f"{tax.name} ({tax.place}), {words.rate(tax.rate, locale)} of {words.money(tax.base, locale)}"


def _balance(sheet: Sheet, start: float, label: str, amount: str) -> None:
    """The sum asked for, the largest figure of the sheet, below a firm rule."""
    sheet.room(SUM.leading + 10)
    sheet.down(4)
    sheet.rule(start, weight=FIRM, ink=STRONG.ink)
    sheet.down(4)
    taken = text_width(amount, SUM.size, SUM.bold) + _GAP
    *above, last = wrap(label, sheet.right - start - taken, STRONG)
    for line in above:
        _sum(sheet, start, [line], "", STRONG)
    sheet.put_right(amount, sheet.right, SUM)
    sheet.put(last, start, replace(STRONG, leading=SUM.leading))
    sheet.down(SUM.leading)
