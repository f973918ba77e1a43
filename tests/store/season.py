"""A small season driven through the rooms' own actions: after it every table of the book has a row.

`basics` is what a shop writes before its first job; `season` adds one job from the question to the payment, a struck
line, an edited customer, a closed month and a reminder that was sent.
"""

import datetime as dt
from collections.abc import Callable
from typing import Any

from coatbook.aircraft.actions import add_airframe, add_surface
from coatbook.aircraft.clocks import write_times
from coatbook.aircraft.keepoff import prefill_keep_off
from coatbook.aircraft.lifetime import withdraw
from coatbook.billing.actions import keep_file, set_price, set_tax_rate, take_payment
from coatbook.desk import invoicing, striking
from coatbook.desk.closing import close_month
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary, looks, scope, shop
from coatbook.jobs.gates import Finding
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.gauges import check_gauge
from coatbook.jobs.photos import log_photo
from coatbook.jobs.standard import add_standard_step
from coatbook.people import actions as people
from coatbook.people import papers
from coatbook.stock import actions as stock
from coatbook.stock import changes
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.imports import Importing, Reasons, row_hash
from coatbook.upkeep import actions as upkeep
from coatbook.values import Money, Quantity
from coatbook.values.days import Month
from coatbook.values.marks import parse_mark

JUNE, JULY, AUGUST = Month(2026, 6), Month(2026, 7), Month(2026, 8)
TODAY = dt.date(2026, 8, 20)
FIRST_DAY = dt.date(2026, 6, 1)
INVOICE = "2026-0001"


def usd(text: str) -> Money:
    return Money.parse(text, "USD")


def quantity(text: str) -> Quantity:
    return Quantity.parse(text)


def do(book: Book, day: str | dt.date | None, action: Callable[..., Any], /, **values: Any) -> Told[Any]:
    """One act on a day, named after its action; its key lets the same acts come again in another book."""
    on = dt.date.fromisoformat(day) if isinstance(day, str) else day
    return book.do(Ask(action.__name__.replace("_", " "), "tester", on, again=True), action, **values)


def basics(book: Book) -> None:
    """Customer, aircraft, workers, materials, services and their prices."""

    def write(action: Callable[..., Any], **values: Any) -> None:
        do(book, FIRST_DAY, action, **values)

    write(people.add_customer, code="hill", name="Hill Flyers", address="2 Low Road", email="hill@example.com")
    write(people.add_site, code="mesa", name="Mesa Alta hangar 7", address="4100 Runway Road", place="US-TX")
    write(people.add_worker, code="sam", name="Sam Larkfield", kind="owner")
    write(people.add_worker, code="lee", name="Lee Moor", kind="employee")
    write(people.set_worker_rate, code="sam", rate=usd("40.00"))
    write(people.set_worker_rate, code="lee", rate=usd("28.35"))
    write(people.set_overhead_rate, rate=usd("9.17"))
    mark = parse_mark("N123AB")
    airframe = {"maker": "Piper", "model": "PA-28-181", "serial": "2843001", "mark": mark, "owner": "hill"}
    write(add_airframe, code="archer", **airframe)
    surface = {"area": quantity("86 ft2"), "substrate": "aluminum", "paint": "single-stage"}
    write(add_surface, aircraft="archer", name="left wing", **surface)
    write(stock.add_material, code="sealant", name="Paint sealant", unit="fl oz")
    write(stock.add_terms, code="sealant", item="wash", every=6, per="month", grace=30)
    write(jobs.add_service, code="wash", name="Wash", abrasive=False)
    write(jobs.add_service, code="polish", name="Prep polish", abrasive=True)
    write(add_standard_step, service="wash", name="Rinse", hours=quantity("12 min"), per_area=quantity("10 ft2"))
    write(set_price, service="wash", amount=usd("185.00"), basis="job")
    write(set_price, service="polish", amount=usd("4.10"), basis="area")
    write(set_tax_rate, place="US-TX", kind="labor", percent="8.25", name="Sales tax")


def buy(book: Book, day: str, amount: str, cost: str, label: str) -> None:
    values = {"code": "sealant", "quantity": quantity(amount), "cost": usd(cost), "supplier": "Hillside Supply"}
    do(book, day, stock.buy, label=label, **values)


def agreed_job(book: Book, day: str) -> int:
    """A job that is agreed past a gate and stands on the floor; its number."""
    job = do(book, day, jobs.open_job, aircraft="archer", site="mesa", asked_for="Polish and seal the left wing").result
    do(book, day, scope.look_at, job=job, surface="left wing", state="chalking")
    spot = {"place": "under the flap", "size": quantity("0.05 ft2"), "product": "compound", "risk": "color loss"}
    do(book, day, scope.consent, job=job, surface="left wing", by="Hill", how="by mail", **spot)
    do(book, day, jobs.plan_steps, job=job, service="wash", materials=("sealant",))
    do(book, day, jobs.plan_steps, job=job, service="polish", surfaces=["left wing"], removal=quantity("1.5 µm"))
    finding = Finding("film", "left wing", "unknown", "no readings", f"seen {job}", ("2",))
    claim = jobs.authority(
        name="A. Moor", certificate="mechanic 1", document="manual 51", why="old paint, removed next"
    )
    do(book, day, agree, job=job, finding=finding, claim=claim)
    do(book, day, scope.change_scope, job=job, what="the tail too", by="Hill", how="by phone", hours=quantity("1 h"))
    do(book, day, jobs.arrive, job=job, by="Sam", keepoff_seen_by="Lee")
    return int(job)


def agree(act: OpenAct, *, job: int, finding: Finding, claim: Any) -> None:
    """The desk's agreement, with the calculator's answer made up."""
    result = jobs.keep_result("thickness", "1", jobs.find_job(act.session, job).id, {"spots": 0}, {"verdicts": []})
    jobs.agree(act, job=job, by="Hill", findings=[finding], results=[result], authorized=claim)


def diary_of(book: Book, job: int, day: str) -> None:
    """One line of each kind the diary has."""
    do(book, day, diary.log_hours, job=job, worker="lee", hours=quantity("2.5 h"), step=1)
    do(book, day, diary.log_hours, job=job, worker="sam", hours=quantity("1 h"), step=2)
    do(book, day, diary.log_use, job=job, material="sealant", quantity=quantity("40 fl oz"), step=1)
    do(book, day, diary.log_expense, job=job, amount=usd("35.00"), what="Hangar day fee")
    do(book, day, diary.log_travel, job=job, distance=quantity("64 mi"), rate=usd("0.67"), where="To Mesa Alta")
    spots = [Spot("left wing", "1", (quantity("112 µm"), quantity("115 µm")))]
    do(book, day, diary.log_film, job=job, spots=spots, gauge="eddy current", serial="G-1042")
    conditions = {"air": quantity("24 °C"), "skin": quantity("26 °C"), "humidity": quantity("45 %")}
    do(book, day, diary.log_conditions, job=job, **conditions)
    do(book, day, diary.log_coat, job=job, material="sealant", surfaces=["left wing"], label="B-204")
    do(book, day, diary.log_mask, job=job, way="on", item="static port", count=1)
    do(book, day, diary.log_mask, job=job, way="off", item="static port", count=1)
    do(book, day, looks.look_at_masks, job=job, by="Lee Moor")
    do(book, day, diary.log_note, job=job, note="Seam at the fuel cap, owner told.")


def more_lines(book: Book, job: int, day: str) -> None:
    """A gauge's check, a stop, a photo, and the shop's own hours and spending."""
    gauge = {"gauge": "eddy current", "serial": "G-1042", "stage": "before", "zero": quantity("0 µm")}
    do(book, day, check_gauge, job=job, shim=quantity("50 µm"), shim_read=quantity("51 µm"), **gauge)
    do(book, day, diary.log_stop, job=job, kind="humid", what="84 % until noon", hours=quantity("2 h"))
    do(book, day, log_photo, job=job, name="wing.png", content=b"\x89PNG\r\n\x1a\n pixels", caption="Left wing")
    do(book, day, shop.log_shop_hours, worker="lee", hours=quantity("1 h"), note="cleaned the shop")
    do(book, day, shop.log_shop_expense, amount=usd("620.00"), what="July", category="rent", payee="North Field")


def season(book: Book) -> None:
    """The whole of it: every table has a row, some lines are struck, June is closed."""
    basics(book)
    buy(book, "2026-06-03", "32 fl oz", "71.00", "B-204")
    buy(book, "2026-06-20", "1 gal", "180.00", "B-311")
    job = agreed_job(book, "2026-07-01")
    diary_of(book, job, "2026-07-02")
    wrong = do(book, "2026-07-02", diary.log_use, job=job, material="sealant", quantity=quantity("1 fl oz")).result
    do(book, "2026-07-03", striking.strike, name=str(wrong), why="of another job")
    more_lines(book, job, "2026-07-03")
    do(book, "2026-07-05", jobs.hand_over, job=job, to="Hill")
    do(book, "2026-07-05", invoicing.issue, job=job)
    drawn = {"media": "application/pdf", "name": "invoice.pdf", "drawn_by": "tester", "content": b"%PDF-1.4 drawn"}
    do(book, "2026-07-05", keep_file, number=INVOICE, **drawn)
    do(book, "2026-07-20", take_payment, customer="hill", amount=usd("100.00"), method="check", invoices=[INVOICE])
    do(book, "2026-07-21", people.edit_customer, code="hill", phone="555-0101")
    do(book, "2026-07-21", changes.count, code="sealant", quantity=quantity("119 fl oz"), why="a spill")
    on_paper(book)
    do(book, None, close_month, month=JUNE)
    remind(book, job)
    fly_on(book)
    import_a_note(book, job)


def import_a_note(book: Book, job: int) -> None:
    """A row of a file, as an import keeps it."""

    def import_note(act: OpenAct, *, note: str) -> None:
        bringing = Importing(act, "notes", "notes.csv", Reasons())
        assert bringing.take(row_hash({"job": job, "note": note}))
        diary.log_note(act, job=job, note=note)

    do(book, "2026-08-04", import_note, note="Brought in from a file.")


def fly_on(book: Book) -> None:
    """The aircraft's clock is read and its keep-off list begun; another one is scrapped."""
    do(book, "2026-08-02", write_times, aircraft="archer", clock="tach", hours=quantity("1684.2 h"))
    do(book, "2026-08-02", prefill_keep_off, aircraft="archer", kinds=["low wing"])
    do(book, "2026-08-03", add_airframe, code="cub", maker="Piper", model="J-3", serial="12345", year=1946)
    do(book, "2026-08-03", withdraw, aircraft="cub", why="scrapped")


def on_paper(book: Book) -> None:
    """Insurance of the business, a rule of the site, and an exemption from tax elsewhere."""
    days = {"from_on": dt.date(2026, 7, 1), "expires": dt.date(2027, 6, 30)}
    policy = {"kind": "insurance", "issuer": "Example Mutual", "number": "GL-100", "amount": usd("1000000.00")}
    do(book, "2026-07-22", papers.add_paper, of="business", **policy, **days)
    exempt = {"customer": "hill", "place": "US-NM", "reason": "resale", "certificate": "01-339"}
    do(book, "2026-07-22", papers.add_exemption, **exempt, **days)
    do(book, "2026-07-22", people.edit_site, code="mesa", access="gate 2")


def remind(book: Book, job: int) -> None:
    """Upkeep that was done, and a message decided, claimed and sent."""
    do(book, "2026-08-01", upkeep.write_done, aircraft="archer", item="wash", by="the owner")
    days = {"opens": dt.date(2026, 12, 3), "due": dt.date(2027, 1, 2), "closes": dt.date(2027, 2, 1)}
    subject = f"{job}/left wing/sealant/wash"
    notice = upkeep.NewNotice(subject, airframe=1, surface="left wing", item="wash", n=1, lead=30, **days)
    letter = {"customer": "hill", "to_address": "hill@example.com", "message_id": "<1@example.com>"}
    message = do(book, None, upkeep.write_message, content=b"Subject: wash\r\n\r\n", notices=[notice], **letter).result
    attempt = do(book, None, upkeep.claim, message=message, carrier="folder").result
    do(book, None, upkeep.record_outcome, attempt=attempt, verdict="sent", what="written")
