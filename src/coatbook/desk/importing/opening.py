"""What a shop that begins its book in the middle of a year brings in: a folder of files, one act, all or nothing.

Jobs, customers, aircraft and materials that the files name must be in the book before: they are imported as usual.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from coatbook.aircraft.views import find_airframe
from coatbook.billing.brought_in import bring_in_cost, bring_in_deposit, bring_in_invoice
from coatbook.desk.importing.columns import Progress
from coatbook.desk.importing.files import Source, bring_rows
from coatbook.desk.importing.tables import ImportTable
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.stock.actions import buy
from coatbook.stock.tables import Material
from coatbook.stock.views import terms_on
from coatbook.store.acts import Ask, OpenAct, Told
from coatbook.store.book import Book
from coatbook.store.finding import by_code
from coatbook.store.imports import NothingNew, Reasons
from coatbook.values import Money, Quantity, Refusal
from coatbook.values.text import shown

BEFORE = "brought in at the start"


def bring_in_stock(
    act: OpenAct,
    *,
    code: str,
    quantity: Quantity,
    cost: Money,
    label: str,
    supplier: str | None = None,
    expires: dt.date | None = None,
) -> None:
    """A lot that is on the shelf when the book begins: what is left of it, and what that cost."""
    buy(
        act,
        code=code,
        quantity=quantity,
        cost=cost,
        supplier=supplier or BEFORE,
        label=label,
        expires=expires,
        brought_in=True,
    )


class Coatings:
    """Coatings that lie on aircraft already: a past job for each aircraft and day, handed over at no charge."""

    def __init__(self) -> None:
        self._open: dict[tuple[int, dt.date], int] = {}
        self._planned: set[tuple[int, str]] = set()

    def bring_in(
        self,
        act: OpenAct,
        *,
        aircraft: str,
        site: str,
        service: str,
        material: str,
        surfaces: Sequence[str],
        laid_on: dt.date,
        label: str,
        layer: int = 1,
    ) -> None:
        """One coat that was laid before the book began, under the upkeep terms of its day.

        No safety gate is asked: the work is done.
        """
        act.turn_to(laid_on)
        product = by_code(act.session, Material, material, "material")
        if not terms_on(act.session, product.id, laid_on, act.today):
            raise Refusal(
                f"{product.name} asks for no upkeep on {laid_on}, the day it was laid: write that first with "
                f"`coatbook material terms {product.code} ITEM --every … --from {laid_on}`"
            )
        where = find_airframe(act.session, aircraft, laid_on, act.today).id, laid_on
        job = self._open.get(where) or jobs.open_job(act, aircraft=aircraft, site=site, asked_for=f"Coating, {BEFORE}")
        named = {name.strip().lower() for name in surfaces}
        unplanned = sorted(name for name in named if (job, name) not in self._planned)
        if unplanned:
            jobs.plan_steps(act, job=job, service=service, surfaces=unplanned, materials=(material,))
        if where not in self._open:
            jobs.agree(act, job=job, by=BEFORE, findings=(), results=())
            jobs.arrive(act, job=job, by=BEFORE)
        diary.log_coat(act, job=job, material=material, surfaces=surfaces, label=label, layer=layer)
        self._open[where] = job
        self._planned |= {(job, name) for name in named}

    def hand_over(self, act: OpenAct) -> None:
        for (_, day), job in self._open.items():
            act.turn_to(day)
            jobs.hand_over(act, job=job, to=BEFORE, no_charge=True)


FILES = {
    "stock.csv": ImportTable(
        "stock",
        "a lot on the shelf: what is left of it and what that cost",
        bring_in_stock,
        {"code": "sealant", "quantity": "20 fl oz", "cost": "30.00", "label": "B-199", "expires": "2027-01-31"},
        dated=False,
    ),
    "coatings.csv": ImportTable(
        "coatings",
        "a coat that lies on an aircraft, and the day it was laid",
        Coatings.bring_in,
        {
            "aircraft": "skylane", "site": "mesa", "service": "coating", "material": "sealant",
            "surfaces": "left wing", "laid_on": "2026-03-02", "label": "B-180", "layer": "1",
        },
        dated=False,
    ),
    "open-invoices.csv": ImportTable(
        "open-invoices",
        "an invoice that is not paid, and what is open on it",
        bring_in_invoice,
        {
            "job": "1", "customer": "alder", "number": "25-118", "dated": "2026-03-02", "due": "2026-03-16",
            "open_amount": "412.50",
        },
        dated=False,
    ),
    "deposits.csv": ImportTable(
        "held-deposits",
        "a deposit that is held for a job",
        bring_in_deposit,
        {"customer": "alder", "job": "1", "amount": "200.00", "taken_on": "2026-03-02"},
        dated=False,
    ),
    "work-in-progress.csv": ImportTable(
        "work-in-progress",
        "what a job in progress has cost so far",
        bring_in_cost,
        {"job": "1", "kind": "labor", "amount": "180.00", "text": "hours of February"},
        dated=False,
    ),
}  # fmt: skip


def open_folder(folder: Path, currency: str) -> list[Source]:
    """The files of a folder that can be brought in, in the order they are.

    Raises:
        Refusal: it is no folder, it has none of them, or a file in it would be left out unseen.
    """
    if not folder.is_dir():
        raise Refusal(f"there is no folder {shown(str(folder))}: name the one that holds {', '.join(FILES)}")
    names = sorted(path.name for path in folder.iterdir() if path.suffix.lower() == ".csv")
    stray = [name for name in names if name not in FILES]
    if stray:
        raise Refusal(f"{shown(stray[0])} is no file of the start: the files are named {', '.join(FILES)}")
    if not names:
        raise Refusal(f"there is nothing to bring in in {shown(str(folder))}: it may hold {', '.join(FILES)}")
    return [Source(FILES[name], folder / name, currency) for name in FILES if name in names]


def import_opening(
    book: Book, ask: Ask, sources: Sequence[Source], *, progress: Progress = lambda count, what: None
) -> Told[int]:
    """Bring in what the shop has, owes and is owed on the day its book begins; how many rows were new."""
    again, ask = ask.again, replace(ask, command="import opening", again=True)

    def bring_in(act: OpenAct, /, *, files: dict[str, str]) -> int:
        reasons, coatings = Reasons(), Coatings()
        new = 0
        for source in sources:
            action: Callable[..., Any] = source.table.action
            if source.table.name == "coatings":
                action = coatings.bring_in
            new += bring_rows(act, source, action, reasons, progress, again=again).new
            if source.file.sha256() != files[source.file.name]:
                raise Refusal(f"{source.file.name} was changed while it was read: import the folder again")
        reasons.refuse()
        on = act.on
        coatings.hand_over(act)
        act.turn_to(on)
        if not new:
            raise NothingNew("\n".join(act.sentences))
        return new

    try:
        return book.do(ask, bring_in, files={source.file.name: source.file.sha256() for source in sources})
    except NothingNew as nothing:
        return Told(nothing.told, 0)
