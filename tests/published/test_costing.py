"""Material cost first in, first out, and the cost and profit of jobs, against textbooks."""

import datetime as dt
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any

from coatbook.aircraft.actions import add_airframe
from coatbook.billing.actions import offer_service
from coatbook.desk import invoicing
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.people import actions as people
from coatbook.review.views import Figures, review_job
from coatbook.stock import actions as stock
from coatbook.stock.views import material
from coatbook.store.acts import Ask
from coatbook.store.book import Book
from coatbook.values import Money, Quantity
from published.checks import Check, table

TEXTBOOK = "openstax/osbooks-principles-accounting-bundle@2165bf6 modules"
INSTITUTE = "globalaccountancyinstitute.com/?p=10349"

JULY = (
    ("2018-07-01", "buy", 150, "21"),
    ("2018-07-05", "use", 120, ""),
    ("2018-07-10", "buy", 225, "27"),
    ("2018-07-15", "use", 180, ""),
    ("2018-07-25", "buy", 210, "33"),
)  # the goods of openstax chapter 10: day, kind, units, unit cost
ONE_SALE = (*(move for move in JULY if move[1] == "buy"), ("2018-07-31", "use", 1, ""))
TWO_LOTS = (("2018-01-01", "buy", 100, "10"), ("2018-02-01", "buy", 200, "12"), ("2018-03-01", "use", 250, ""))
EVEN = (("2018-01-01", "buy", 50, "7"), ("2018-02-01", "buy", 20, "7"), ("2018-03-01", "use", 52, ""))


def do(book: Book, day: str, action: Callable[..., Any], **values: Any) -> Any:
    on = dt.date.fromisoformat(day)
    return book.do(Ask(action.__name__, "tester", on, again=True), action, **values).result


def usd(text: str | Decimal) -> Money:
    return Money.parse(str(text), "USD")


def furnish(book: Book, day: str) -> None:
    do(book, day, people.add_customer, code="alder", name="Jo Alder", address="12 Field Lane")
    do(book, day, people.add_site, code="mesa", name="Hangar 7", address="4100 Runway Road", place="US-TX")
    airframe = {"maker": "Piper", "model": "PA-28-181", "serial": "2843001", "owner": "alder"}
    do(book, day, add_airframe, code="archer", **airframe)


def opened(book: Book, day: str, service: str = "service", price: str = "0.00", basis: str = "job") -> int:
    """A job of one service."""
    values = {"name": service, "abrasive": False, "tax_kind": "labor", "price": usd(price), "basis": basis}
    do(book, day, offer_service, code=service, **values)
    job = do(book, day, jobs.open_job, aircraft="archer", site="mesa", asked_for=service)
    do(book, day, jobs.plan_steps, job=job, service=service)
    return int(job)


def buy(book: Book, day: str, code: str, units: int, unit_cost: str) -> None:
    cost = usd(Decimal(units) * Decimal(unit_cost))
    lot = {"quantity": Quantity.of(units, "each"), "cost": cost, "supplier": "Low Road", "label": "1"}
    do(book, day, stock.buy, code=code, **lot)


def use(book: Book, day: str, job: int, code: str, units: int) -> None:
    do(book, day, diary.log_use, job=job, material=code, quantity=Quantity.of(units, "each"))


def moved(book: Book, moves: Sequence[tuple[str, str, int, str]]) -> tuple[Decimal, Decimal, Decimal]:
    """What the uses cost, what the last of them cost, and what is left on the shelf is worth."""
    furnish(book, moves[0][0])
    do(book, moves[0][0], stock.add_material, code="goods", name="Goods", unit="each")
    job = opened(book, moves[0][0])
    costs = [Decimal(0)]
    for day, kind, units, unit_cost in moves:
        if kind == "buy":
            buy(book, day, "goods", units, unit_cost)
        else:
            use(book, day, job, "goods", units)
            costs.append(Decimal(figures(book, job).materials) / 100)
    with book.read() as session:
        left = material(session, "goods", book.today()).value
    return costs[-1], costs[-1] - costs[-2], Decimal(left) / 100


def figures(book: Book, job: int) -> Figures:
    """What a job came to: recognized, or in progress as long as it is not."""
    with book.read() as session:
        review = review_job(session, job, book.today())
    return review.figures if review.recognized else review.in_progress


FIFO = (
    Check("fifo-sold", (JULY, 0), "7200", f"{TEXTBOOK}/m67890, FIFO: cost of goods sold"),
    Check("fifo-second-sale", (JULY, 1), "4680", f"{TEXTBOOK}/m67890: 30 at 21 and 150 at 27", status="memory"),
    Check("fifo-left", (JULY, 2), "8955", f"{TEXTBOOK}/m67890, FIFO: ending inventory"),
    Check("fifo-one-unit", (ONE_SALE, 0), "21", f"{TEXTBOOK}/m67889: 36 less a gross margin of 15"),
    Check("fifo-two-lots-sold", (TWO_LOTS, 0), "2800", INSTITUTE),
    Check("fifo-two-lots-left", (TWO_LOTS, 2), "600", INSTITUTE),
    Check("fifo-even-sold", (EVEN, 0), "364", f"{TEXTBOOK}/m67889: cost of goods sold"),
    Check("fifo-even-left", (EVEN, 2), "126", f"{TEXTBOOK}/m67889: ending inventory"),
)


@table(FIFO)
def test_first_in_first_out(book: Book, check: Check) -> None:
    moves, which = check.inputs
    check.agrees(moved(book, moves)[which])


# The job cost sheet of MAC001: materials as (units, unit cost), labor as (hours, wage); overhead is applied at 2.50 a
# dollar of labor, which for these four hours is 165 / 4 = 41.25 an hour.
SHEET = {
    "materials": ((1, "300"), (2, "50"), (1, "60"), (1, "60"), (12, "10"), (40, "1.50")),
    "labor": ((1, "15.00"), (1, "15.00"), (2, "18.00")),
    "overhead": "41.25",
    "prices": (("sign", "2000.00", "job"),),
}
# A repair: one part at 42 sold for 70, three hours at a wage of 25 billed at 80, overhead 100 % of labor.
REPAIR = {
    "materials": ((1, "42"),),
    "labor": ((3, "25.00"),),
    "overhead": "25.00",
    "prices": (("repair", "80.00", "hour"), ("part", "70.00", "job")),
}
JOBS = tuple(
    Check(f"job-{name}-{figure}", (sheet, figure), expected, f"{TEXTBOOK}/{where}")
    for name, sheet, where, rows in (
        (
            "sheet",
            SHEET,
            "m68005 and m68126, job cost sheet",
            {"revenue": "2000", "materials": "700", "labor": "66", "overhead": "165", "profit": "1069"},
        ),
        (
            "repair",
            REPAIR,
            "m68127, repair job",
            {"revenue": "310", "materials": "42", "labor": "75", "overhead": "75", "profit": "118"},
        ),
    )
    for figure, expected in rows.items()
)


@table(JOBS)
def test_a_jobs_cost_sheet(book: Book, check: Check) -> None:
    sheet, figure = check.inputs
    check.agrees(Decimal(getattr(worked(book, sheet), figure)) / 100)


@table(
    [
        Check("job-sheet-cost", SHEET, "931", f"{TEXTBOOK}/m68005: job cost"),
        Check("job-repair-cost", REPAIR, "192", f"{TEXTBOOK}/m68127: cost of the repair"),
    ]
)
def test_a_jobs_whole_cost(book: Book, check: Check) -> None:
    found = worked(book, check.inputs)
    check.agrees(Decimal(found.cost + found.overhead) / 100)


def worked(book: Book, sheet: dict[str, Any]) -> Figures:
    """A job's figures once its work is done and invoiced, all on one day."""
    day = "2026-03-02"
    furnish(book, day)
    (first, price, basis), *others = sheet["prices"]
    job = opened(book, day, first, price, basis)
    for code, amount, basis in others:
        values = {"name": code, "abrasive": False, "tax_kind": "material", "price": usd(amount), "basis": basis}
        do(book, day, offer_service, code=code, **values)
        do(book, day, jobs.plan_steps, job=job, service=code)
    do(book, day, people.set_overhead_rate, rate=usd(sheet["overhead"]))
    for number, (units, unit_cost) in enumerate(sheet["materials"]):
        do(book, day, stock.add_material, code=f"m-{number}", name="Material", unit="each")
        buy(book, day, f"m-{number}", units, unit_cost)
        use(book, day, job, f"m-{number}", units)
    for number, (hours, wage) in enumerate(sheet["labor"]):
        do(book, day, people.add_worker, code=f"w-{number}", name="Worker", kind="employee", rate=usd(wage))
        values = {"worker": f"w-{number}", "hours": Quantity.of(hours, "h"), "step": 1}
        do(book, day, diary.log_hours, job=job, **values)
    do(book, day, jobs.agree, job=job, by="Jo Alder", findings=(), results=())
    do(book, day, jobs.arrive, job=job, by="Sam Reed")
    do(book, day, jobs.hand_over, job=job, to="Jo Alder")
    do(book, day, invoicing.issue, job=job)
    return figures(book, job)


IN_PROGRESS = Check("job-in-progress", ("500", "150", "375"), "1025", f"{TEXTBOOK}/m68005: TRJ441, closing work")


@table([IN_PROGRESS])
def test_work_in_progress(book: Book, check: Check) -> None:
    """Ten hours at 15, overhead at 2.50 a dollar of labor: 37.50 an hour. Overhead is memo here, so it is added."""
    day, (goods, labor, overhead) = "2026-03-02", map(Decimal, check.inputs)
    furnish(book, day)
    job = opened(book, day)
    do(book, day, people.set_overhead_rate, rate=usd(overhead / 10))
    do(book, day, stock.add_material, code="goods", name="Goods", unit="each")
    buy(book, day, "goods", 1, str(goods))
    use(book, day, job, "goods", 1)
    do(book, day, people.add_worker, code="kim", name="Kim", kind="employee", rate=usd(labor / 10))
    do(book, day, diary.log_hours, job=job, worker="kim", hours=Quantity.of(10, "h"))
    found = figures(book, job)
    check.agrees(Decimal(found.cost + found.overhead) / 100)
