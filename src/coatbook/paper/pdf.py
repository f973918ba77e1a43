"""Marks on pages become a PDF file. The same sheet gives the same bytes on one set of installed libraries."""

import datetime as dt
import re
from dataclasses import dataclass, replace

from fpdf import FPDF

from coatbook.paper.fonts import face_files
from coatbook.paper.sheet import BOTTOM, FOOT, HAIRLINE, PALE, PAPERS, Ink, Mark, Rule, Sheet, Text
from coatbook.paper.words import NO_BREAK

_FAMILY = "paper"
_LANGUAGE = "en-US"  # of the words, not of the figures


@dataclass(frozen=True, slots=True)
class Identity:
    """What a file says of itself: `date` stands for its moment of making, `foot` beside the page number."""

    title: str
    author: str
    subject: str
    date: dt.date
    foot: str
    aside: str


def pdf_bytes(sheet: Sheet, identity: Identity) -> bytes:
    """The pages of a sheet as a PDF, each with its foot: what it is, the head of the chain, and its number."""
    pdf = FPDF(unit="pt", format=PAPERS[sheet.paper])
    pdf.set_auto_page_break(False)
    pdf.alias_nb_pages("")  # else "{nb}" in anyone's name would turn into a number
    pdf.set_creation_date(dt.datetime.combine(identity.date, dt.time(12), dt.UTC))
    pdf.set_title(identity.title)
    pdf.set_author(identity.author)
    pdf.set_subject(identity.subject)
    pdf.set_creator("coatbook")
    pdf.set_producer("coatbook")
    pdf.set_lang(_LANGUAGE)
    with face_files() as paths:
        pdf.add_font(_FAMILY, "", paths[False])
        pdf.add_font(_FAMILY, "B", paths[True])
        for number, marks in enumerate(sheet.pages, 1):
            pdf.add_page()
            for mark in [*marks, *_foot(sheet, identity, number)]:
                _draw(pdf, mark)
        return bytes(pdf.output())


def _foot(sheet: Sheet, identity: Identity, number: int) -> list[Mark]:
    """The hairline and line of text below every page."""
    y = PAPERS[sheet.paper][1] - BOTTOM + 18
    baseline = y + 12
    page = Text(0, baseline, f"Page {number} of {len(sheet.pages)}", FOOT)
    aside = Text(0, baseline, identity.aside, FOOT)
    return [
        Rule(sheet.left, y, sheet.width, HAIRLINE, PALE),
        Text(sheet.left, baseline, identity.foot, FOOT),
        replace(aside, x=sheet.left + (sheet.width - aside.width) / 2),
        replace(page, x=sheet.right - page.width),
    ]


def _draw(pdf: FPDF, mark: Mark) -> None:
    if isinstance(mark, Rule):
        pdf.set_draw_color(*mark.ink)
        pdf.set_line_width(mark.weight)
        cap = mark.weight / 2  # the library's lines reach this far beyond their ends
        pdf.line(mark.x + cap, mark.y, mark.x + mark.width - cap, mark.y)
    elif mark.text:
        pdf.set_font(_FAMILY, "B" if mark.style.bold else "", mark.style.size)
        pdf.set_text_color(*mark.style.ink)
        pdf.text(mark.x, mark.y, mark.text.replace(NO_BREAK, " "))


def readable_ink(color: str | None, otherwise: Ink) -> Ink:
    """The shop's color ("#31556b") for headings, darkened until it reads on white, in gray too: contrast 4.5 to 1.

    Source: WCAG 2.1, success criterion 1.4.3 and its definition of relative luminance.
    """
    if color is None or not re.fullmatch(r"#[0-9A-Fa-f]{6}", color):
        return otherwise
    red, green, blue = (int(color[at : at + 2], 16) for at in (1, 3, 5))
    while 1.05 / (_luminance(red, green, blue) + 0.05) < 4.5:
        red, green, blue = (int(part * 0.95) for part in (red, green, blue))
    return (red, green, blue)


def _luminance(*parts: int) -> float:
    linear = [part / 255 / 12.92 if part / 255 <= 0.04045 else ((part / 255 + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
