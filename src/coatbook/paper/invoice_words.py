"""What an invoice says in words: the sentence it opens with, the facts of aircraft and work, and how to pay."""

import datetime as dt
import re

from coatbook.billing.record import InvoiceRecord, WorkedAircraft
from coatbook.paper import words

_PASSED = re.compile(r"(?<= passed on )\d{4}-\d{2}-\d{2}(?= by )")


def called(aircraft: WorkedAircraft) -> str:
    """How an aircraft is called: by its mark, else by maker, model and serial number."""
    return aircraft.mark or f"{aircraft.maker} {aircraft.model} serial {aircraft.serial}"


def opening(record: InvoiceRecord) -> str:
    """The sentence an invoice opens with: which work on which aircraft, handed over when, what is asked by when."""
    locale = record.shop.locale
    work = words.within_sentence(record.asked_for)
    aircraft = called(record.aircraft)
    of = "" if aircraft in work else f" of {aircraft}"
    handed = f"handed over on {words.long_date(record.handed_over, locale)}"
    if not record.gross:
        return f"For {work}{of}, {handed}: no charge, nothing is due."
    asked = f"{words.money(record.gross, locale)}, due {by_when(record)}"
    return f"For {work}{of}, {handed}: {asked}."


def by_when(record: InvoiceRecord) -> str:
    if record.due <= record.date:
        return "on receipt"
    return f"by {words.long_date(record.due, record.shop.locale)}"


def how_to_pay(record: InvoiceRecord) -> tuple[str, ...]:
    """The shop's own lines, then the number to quote and the terms; nothing where nothing is asked."""
    shop, days = record.shop, (record.due - record.date).days
    if not record.gross:
        return ()
    ask = " or ".join(filter(None, (shop.phone, shop.email)))
    lines = shop.pay_how or ((f"Ask us how to pay: {ask}.",) if ask else ())
    from_date = f", {days} {'day' if days == 1 else 'days'} from the date of this invoice" if days > 0 else ""
    return (*lines, f"Please quote {record.number}. Due {by_when(record)}{from_date}.")


def authorities(record: InvoiceRecord) -> tuple[str, ...]:
    """Who passed a gate, each day in the long form of paper where the record holds it as the book writes it."""

    def long(found: re.Match[str]) -> str:
        return words.long_date(dt.date.fromisoformat(found[0]), record.shop.locale)

    return tuple(words.whole_sentence(_PASSED.sub(long, sentence, count=1)) for sentence in record.authorities)


def aircraft_and_work(record: InvoiceRecord) -> list[tuple[str, str]]:
    locale, aircraft = record.shop.locale, record.aircraft
    facts = [
        (words.registration_label(aircraft.mark), aircraft.mark),
        ("Maker", aircraft.maker),
        ("Model", aircraft.model),
        ("Serial number", aircraft.serial),
        ("Year", str(aircraft.year) if aircraft.year else None),
        ("Place of work", "\n".join(record.place_of_work)),
        ("Arrived", words.long_date(record.arrived, locale)),
        ("Handed over", words.long_date(record.handed_over, locale)),
        ("Job", str(record.job)),
    ]
    return [(label, text) for label, text in facts if text]
