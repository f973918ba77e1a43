"""What writes papers (insurance, permits, certificates) and customers' exemptions from tax."""

import datetime as dt

from sqlalchemy import select

from coatbook.people.actions import place as read_place
from coatbook.people.tables import PAPER_KINDS, Business, Customer, Exemption, Paper, Site, Worker
from coatbook.people.views import lies_in
from coatbook.store.acts import OpenAct
from coatbook.store.finding import by_code
from coatbook.values import Misuse, Money, Refusal, text
from coatbook.values.checks import more_than_nothing


def add_paper(
    act: OpenAct,
    *,
    kind: str,
    of: str,
    issuer: str,
    number: str,
    amount: Money | None = None,
    from_on: dt.date | None = None,
    expires: dt.date | None = None,
) -> None:
    """Write a paper of the business, of a site or of a worker. A later one of the same kind takes its place.

    Args:
        of: "business", "site:CODE" or "worker:CODE".
        amount: the sum insured, of insurance only.
        from_on: its first day (else the act's); it may lie ahead, as that of a renewal does.
        expires: its last day.
    """
    what, whose = text.one_of(kind, PAPER_KINDS, "kind of paper"), _subject(act, of)
    if amount is not None and what != "insurance":
        raise Refusal(f"a {what} insures no sum: leave out --amount, or write the paper as insurance")
    start = from_on or act.on
    _refuse_backward(start, expires, f"the {what}")
    paper = Paper(
        kind=what,
        site=whose.id if isinstance(whose, Site) else None,
        worker=whose.id if isinstance(whose, Worker) else None,
        issuer=text.line(issuer, "issuer", 100),
        number=text.line(number, "number of the paper", 60),
        minor=more_than_nothing(amount, "sum insured").minor if amount is not None else None,
        from_on=start,
        expires=expires,
    )
    act.add(paper)
    sum_insured = f" for {amount} {act.currency}" if amount is not None else ""
    act.tell(
        f"Paper {paper.id}: {what} {paper.number} of {whose.name} by {paper.issuer}{sum_insured}, "
        f"in force {_span(start, expires)}."
    )


def _subject(act: OpenAct, named: str) -> Business | Site | Worker:
    """Whose paper it is."""
    kind, colon, code = named.strip().partition(":")
    match kind.strip().lower(), bool(colon):
        case "business", False:
            return act.session.scalars(select(Business)).one()
        case "site", True:
            return by_code(act.session, Site, code, "site")
        case "worker", True:
            return by_code(act.session, Worker, code, "worker")
    raise Misuse(f"{text.shown(named)!r} is nobody who has papers here: write business, site:CODE or worker:CODE")


def add_exemption(
    act: OpenAct,
    *,
    customer: str,
    place: str,
    reason: str,
    certificate: str,
    from_on: dt.date | None = None,
    expires: dt.date | None = None,
) -> None:
    """Write why a customer is charged no tax at a place, nor at any that lies in it, and on which certificate."""
    who, where, start = by_code(act.session, Customer, customer, "customer"), read_place(place), from_on or act.on
    act.check_not_closed(start, "the exemption")
    _refuse_backward(start, expires, "the exemption")
    _refuse_overlap(act, who, where, start, expires)
    row = Exemption(
        customer=who.id,
        place=where,
        reason=text.line(reason, "reason"),
        certificate=text.line(certificate, "number of the certificate", 60),
        from_on=start,
        expires=expires,
    )
    act.add(row)
    act.tell(
        f"{who.name} is charged no tax in {where} {_span(start, expires)}: {row.reason}, certificate "
        f"{row.certificate}. Whether it holds for this work is the shop's to confirm locally."
    )


def _refuse_overlap(act: OpenAct, who: Customer, place: str, start: dt.date, expires: dt.date | None) -> None:
    """Of two exemptions at one place on one day, no invoice could say on which it rests."""
    for row in act.session.scalars(select(Exemption).filter_by(customer=who.id, struck_on=None).order_by(Exemption.id)):
        nested = lies_in(place, row.place) or lies_in(row.place, place)
        begins_before_its_end = row.expires is None or start <= row.expires
        ends_after_its_start = expires is None or row.from_on <= expires
        if nested and begins_before_its_end and ends_after_its_start:
            raise Refusal(
                f"{who.name} is exempt in {row.place} {_span(row.from_on, row.expires)} already: give days outside "
                f"that, or strike it first with `coatbook strike exemption:{row.id} --why …`"
            )


def _refuse_backward(start: dt.date, expires: dt.date | None, what: str) -> None:
    if expires is not None and expires < start:
        raise Refusal(f"{what} would expire on {expires}, before it begins on {start}: check --from and --expires")


def _span(start: dt.date, expires: dt.date | None) -> str:
    return f"from {start} until {expires}" if expires else f"from {start} on"
