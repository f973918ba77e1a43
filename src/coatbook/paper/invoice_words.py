"""What an invoice says in words: the sentence it opens with, the facts of aircraft and work, and how to pay."""

import datetime as dt
import re

from coatbook.billing.record import InvoiceRecord, Line, WorkedAircraft
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
    return f"For {work}{of}, {handed}: {_asked(record)}."


def _asked(record: InvoiceRecord) -> str:
    """What is asked for and by when; deposits that were drawn are named."""
    amounts = (record.gross, record.balance, record.gross - record.balance)
    gross, balance, received = (words.money(amount, record.shop.locale) for amount in amounts)
    if not record.received:
        return f"{gross}, due {by_when(record)}"
    came = "a deposit" if len(record.received) == 1 else "deposits"
    if not record.balance:
        return f"{gross}, paid by {came}; nothing is due"
    return f"{balance}, due {by_when(record)}, after {came} of {received}"


def part_of_job(record: InvoiceRecord) -> str:
    """Which part of its job an invoice is, where others pay too; nothing where it is the only one."""
    shared, locale = record.shared, record.shop.locale
    if shared is None:
        return ""
    part = "A fixed sum of the job's lines"
    if shared.fraction is not None:
        left = f" after fixed sums of {words.money(shared.fixed, locale)}" if shared.fixed else ""
        part = f"{words.rate(shared.fraction, locale)} of the job's lines{left}"
    amounts = f"{words.money(record.net, locale)} of {words.money(shared.whole, locale)} before tax"
    return f"{part}: {amounts}; the rest is invoiced to {words.listed(shared.others)}."


def line_text(line: Line, locale: str) -> str:
    """What a line is for; of a shared one, what it comes to for all who pay."""
    return f"{line.text}, part of {words.money(line.whole, locale)}" if line.whole and line.is_part else line.text


def no_tax(record: InvoiceRecord) -> str:
    """Why some tax is not charged, or that there is none; nothing where all of it is."""
    why = record.exempted
    if why is not None:
        return f"No tax of {why.place}: {why.reason}, certificate {why.certificate}."
    return "" if record.taxes else "No tax charged."


def by_when(record: InvoiceRecord) -> str:
    if record.due <= record.date:
        return "on receipt"
    return f"by {words.long_date(record.due, record.shop.locale)}"


def how_to_pay(record: InvoiceRecord) -> tuple[str, ...]:
    """The shop's own lines, then the number to quote and the terms; nothing where nothing is asked."""
    shop, days = record.shop, (record.due - record.date).days
    if not record.balance:
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
