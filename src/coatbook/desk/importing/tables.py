"""The import tables: a name, what one row is, and the action that each row calls.

Columns follow from the action (see `columns`): whoever gives an action a new keyword gives its table a new column.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from coatbook.aircraft import actions as aircraft
from coatbook.aircraft import clocks, keepoff, lifetime
from coatbook.billing import actions as billing
from coatbook.billing import deposits
from coatbook.desk.importing.columns import Column, columns_of
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary, gauges, looks, scope, shop, standard
from coatbook.jobs.gauge_file import Spot
from coatbook.people import actions as people
from coatbook.people import papers
from coatbook.stock import actions as stock
from coatbook.stock import changes
from coatbook.store.acts import OpenAct
from coatbook.upkeep import actions as upkeep
from coatbook.values import Misuse, Quantity
from coatbook.values.text import shown

MONEY = "money that comes in is asked about first"


@dataclass(frozen=True)
class ImportTable:
    """One kind of file.

    `one_row` says what a row is, `example` are cells of one that would import, `more` further columns that the action
    takes by **keywords. `careful` says why a file is shown first and wants --yes, where it does. Rows of a table that
    is not `dated` belong to the day of the whole.
    """

    name: str
    one_row: str
    action: Callable[..., Any]
    example: Mapping[str, str]
    more: Sequence[str] = ()
    careful: str = ""
    dated: bool = True

    @cached_property
    def columns(self) -> dict[str, Column]:
        return columns_of(self.action, self.more, dated=self.dated)


def log_spot(
    act: OpenAct,
    *,
    job: int,
    surface: str,
    spot: str,
    film: Sequence[Quantity],
    gauge: str,
    serial: str,
    stage: str | None = None,
) -> None:
    """One spot of film as a row of its own."""
    read = Spot(surface.strip().lower(), spot, tuple(film))
    diary.log_film(act, job=job, spots=(read,), gauge=gauge, serial=serial, stage=stage)


_TABLES = (
    ImportTable(
        "customers",
        "someone the shop works for",
        people.add_customer,
        {
            "code": "cedar", "name": "Cedar Aero Club", "address": "8 Creek Lane\\nMesa Alta, TX 78000",
            "email": "desk@example.com", "phone": "555-0110", "locale": "en_US",
        },
        more=("email", "phone", "locale"),
    ),
    ImportTable(
        "sites",
        "a place the shop works at",
        people.add_site,
        {
            "code": "south", "name": "South field, hangar 2", "address": "200 Runway Road\\nMesa Alta, TX 78000",
            "place": "US-TX", "airport": "South field", "landlord": "Field authority",
            "access": "gate code from the tower", "power": "30 A at the door", "water": "no washing outside",
        },
    ),
    ImportTable(
        "workers",
        "someone whose hours go into the book",
        people.add_worker,
        {"code": "lee", "name": "Lee Moor", "kind": "employee", "rate": "26.00", "on_cost": "8 %"},
    ),
    ImportTable(
        "worker-rates",
        "what an hour of a worker costs from a day on",
        people.set_worker_rate,
        {"code": "sam", "rate": "48.00", "from_on": "2026-07-01"},
    ),
    ImportTable(
        "overhead-rates",
        "the shop's overhead per hour of work from a day on",
        people.set_overhead_rate,
        {"rate": "18.50", "from_on": "2026-01-02"},
    ),
    ImportTable(
        "papers",
        "an insurance policy, permit or certificate",
        papers.add_paper,
        {
            "kind": "insurance", "of": "business", "issuer": "Example Mutual", "number": "EM-2201",
            "amount": "1000000.00", "from_on": "2026-01-01", "expires": "2026-12-31",
        },
    ),
    ImportTable(
        "exemptions",
        "why a customer is charged no tax at a place",
        papers.add_exemption,
        {
            "customer": "birch", "place": "US-TX", "reason": "flying school", "certificate": "01-339",
            "from_on": "2026-01-01", "expires": "2026-12-31",
        },
    ),
    ImportTable(
        "aircraft",
        "an airframe, with the mark it wears and who owns it",
        aircraft.add_airframe,
        {
            "code": "archer", "maker": "Piper", "model": "PA-28-181", "serial": "2843001", "year": "1999",
            "mark": "N456CD", "owner": "birch", "from_on": "2024-05-01",
        },
    ),
    ImportTable(
        "marks",
        "the mark an aircraft wears from a day on",
        aircraft.set_mark,
        {"aircraft": "skylane", "mark": "N77AB", "from_on": "2026-08-01"},
    ),
    ImportTable(
        "owners",
        "who owns an aircraft from a day on",
        aircraft.set_owner,
        {"aircraft": "skylane", "owner": "birch", "from_on": "2026-08-01"},
    ),
    ImportTable(
        "times",
        "what one of an aircraft's clocks stood at on a day",
        clocks.write_times,
        {"on": "2026-03-04", "aircraft": "skylane", "clock": "tach", "hours": "1820.4 h"},
    ),
    ImportTable(
        "keep-off",
        "a part of an aircraft with a rule of its own",
        keepoff.set_keep_off,
        {"aircraft": "skylane", "item": "static port", "place": "left side", "count": "1", "rule": "mask"},
    ),
    ImportTable(
        "withdrawals",
        "an aircraft that flies no more for anyone the shop knows",
        lifetime.withdraw,
        {"on": "2026-08-01", "aircraft": "skylane", "why": "sold for parts"},
    ),
    ImportTable(
        "surfaces",
        "a part of an aircraft's skin that is worked and read as one",
        aircraft.add_surface,
        {
            "aircraft": "skylane", "name": "right wing", "area": "84 ft2", "substrate": "aluminum",
            "paint": "base/clear", "layers_known": "yes", "balanced": "no", "primer": "25 µm",
        },
    ),
    ImportTable(
        "services",
        "something the shop does, with its price if known",
        billing.offer_service,
        {
            "code": "leather", "name": "Leather care", "abrasive": "no", "tax_kind": "labor", "price": "240.00",
            "basis": "job",
        },
    ),
    ImportTable(
        "standard-steps",
        "one of the steps a service is usually planned with",
        standard.add_standard_step,
        {
            "service": "polish", "name": "Machine polish", "hours": "1 h", "per_area": "40 ft2", "passes": "2",
            "removal": "1 µm", "material": "sealant",
        },
    ),
    ImportTable(
        "prices",
        "what a service costs from a day on",
        billing.set_price,
        {"service": "polish", "amount": "4.50", "basis": "area", "per": "1 ft2", "from_on": "2026-07-01"},
    ),
    ImportTable(
        "tax-rates",
        "a tax on a kind of charge at a place from a day on",
        billing.set_tax_rate,
        {
            "place": "US-TX-TRAVIS", "kind": "labor", "percent": "1.25", "name": "County sales tax",
            "from_on": "2026-01-02",
        },
    ),
    ImportTable(
        "materials",
        "a product the shop buys, with what its label says",
        stock.add_material,
        {
            "code": "polish-fine", "name": "Fine polish", "unit": "fl oz", "facts": "loss=15 %; pack=32 fl oz",
            "evidence": "data sheet of 2025-11",
        },
    ),
    ImportTable(
        "terms",
        "one item of the upkeep a coating product asks for",
        stock.add_terms,
        {
            "code": "sealant", "item": "inspection", "every": "12", "per": "month", "opens_before": "30",
            "grace": "30", "miss": "warns", "from_on": "2026-01-02",
        },
    ),
    ImportTable(
        "purchases",
        "a lot bought, with the lot number on its label",
        stock.buy,
        {
            "on": "2026-03-02", "code": "sealant", "quantity": "1 qt", "cost": "48.00",
            "supplier": "Hillside Supply", "label": "B-205", "expires": "2027-09-30", "reference": "HS-1187",
        },
    ),
    ImportTable(
        "lot-prices",
        "what a lot cost after all",
        changes.reprice,
        {"on": "2026-03-20", "lot": "B-204", "price": "51.50", "why": "supplier's invoice"},
    ),
    ImportTable(
        "counts",
        "what was counted on the shelf",
        changes.count,
        {"on": "2026-03-31", "code": "sealant", "quantity": "30 fl oz", "why": "count of March"},
    ),
    ImportTable(
        "expired",
        "a lot that is too old to use",
        changes.expire,
        {"on": "2026-03-31", "lot": "B-204", "why": "can was open too long"},
    ),
    ImportTable(
        "returns",
        "what went back to a supplier, and the credit for it",
        changes.give_back,
        {"on": "2026-03-31", "lot": "B-204", "quantity": "16 fl oz", "credit": "24.00", "why": "not needed"},
    ),
    ImportTable(
        "jobs",
        "one piece of work on one aircraft at one site",
        jobs.open_job,
        {
            "on": "2026-03-04", "number": "12", "aircraft": "N123AB", "site": "mesa",
            "asked_for": "Polish and coating", "payer": "birch",
        },
    ),
    ImportTable(
        "parties",
        "who has a role in a job",
        jobs.set_party,
        {"on": "2026-03-04", "job": "1", "role": "hears", "customer": "birch"},
    ),
    ImportTable(
        "surface-conditions",
        "how a surface looked when the job was looked at",
        scope.look_at,
        {"on": "2026-03-04", "job": "1", "surface": "left wing", "state": "chalking", "note": "worst at the root"},
    ),
    ImportTable(
        "consents",
        "consent to a test spot",
        scope.consent,
        {
            "on": "2026-03-04", "job": "1", "surface": "left wing", "place": "inboard, underside", "size": "0.5 ft2",
            "product": "fine compound", "risk": "the paint may be cut through", "by": "Jo Alder", "how": "by phone",
        },
    ),
    ImportTable(
        "signing",
        "who may do and sign the work of a job",
        scope.settle_signing,
        {
            "on": "2026-03-04", "job": "1", "kind": "supervised", "by": "R. Moor", "certificate": "mechanic 0000001",
            "document": "maintenance manual 51-10", "why": "paint is removed on a control surface",
        },
    ),
    ImportTable(
        "steps",
        "a service planned in a job, one step for each surface",
        jobs.plan_steps,
        {
            "on": "2026-03-04", "job": "1", "service": "polish", "surfaces": "elevator", "passes": "2",
            "removal": "1.5 µm", "hours": "3 h", "materials": "sealant",
        },
    ),
    ImportTable(
        "standard-plans",
        "a service planned in a job by its standard steps",
        standard.plan_standard,
        {"on": "2026-03-04", "job": "1", "service": "polish", "surfaces": "elevator"},
    ),
    ImportTable(
        "changes",
        "a change of a job's scope that was agreed",
        scope.change_scope,
        {
            "on": "2026-03-05", "job": "1", "what": "Second pass on the left wing", "by": "Jo Alder",
            "how": "by phone", "price": "120.00", "service": "polish", "hours": "1.5 h",
        },
    ),
    ImportTable(
        "arrivals",
        "an aircraft that came onto the floor for its job",
        jobs.arrive,
        {"on": "2026-03-05", "job": "1", "by": "Sam Reed"},
    ),
    ImportTable(
        "handovers",
        "an aircraft that went back from its job",
        jobs.hand_over,
        {"on": "2026-03-06", "job": "1", "to": "Jo Alder", "no_charge": "no"},
    ),
    ImportTable(
        "cancellations",
        "a job that was called off",
        scope.call_off,
        {"on": "2026-03-05", "job": "1", "by": "Jo Alder", "why": "aircraft sold"},
    ),
    ImportTable(
        "hours",
        "hours of work",
        diary.log_hours,
        {"on": "2026-03-05", "job": "1", "worker": "sam", "hours": "2.5 h", "step": "1", "note": "Left wing done."},
    ),
    ImportTable(
        "shop-hours",
        "hours of work for no job",
        shop.log_shop_hours,
        {"on": "2026-03-05", "worker": "sam", "hours": "1.5 h", "note": "Inventory of the shelf."},
    ),
    ImportTable(
        "uses",
        "a material used on a job",
        diary.log_use,
        {"on": "2026-03-05", "job": "1", "material": "sealant", "quantity": "6 fl oz", "step": "3"},
    ),
    ImportTable(
        "expenses",
        "money spent for a job",
        diary.log_expense,
        {"on": "2026-03-05", "job": "1", "amount": "35.00", "what": "Hangar day fee"},
    ),
    ImportTable(
        "shop-expenses",
        "money spent for no job",
        shop.log_shop_expense,
        {
            "on": "2026-03-01", "amount": "600.00", "what": "Hangar rent for March", "category": "rent",
            "payee": "Field authority", "paid_from": "bank",
        },
    ),
    ImportTable(
        "travel",
        "a trip for a job",
        diary.log_travel,
        {"on": "2026-03-05", "job": "1", "distance": "64 mi", "rate": "0.67", "where": "Shop to Mesa Alta and back"},
    ),
    ImportTable(
        "readings",
        "one spot of paint film, read several times",
        log_spot,
        {
            "on": "2026-03-04", "job": "1", "surface": "left wing", "spot": "root",
            "film": "112 µm; 115 µm; 113 µm", "gauge": "eddy current", "serial": "G-1042",
        },
    ),
    ImportTable(
        "gauge-checks",
        "a gauge checked on bare metal and on a shim",
        gauges.check_gauge,
        {
            "on": "2026-03-04", "job": "1", "gauge": "eddy current", "serial": "G-1042", "stage": "before",
            "zero": "0 µm", "shim": "125 µm", "shim_read": "126 µm",
        },
        careful="a failed check strikes readings",
    ),
    ImportTable(
        "conditions",
        "air, skin and humidity where the work stands",
        diary.log_conditions,
        {"on": "2026-03-05", "job": "1", "air": "24 °C", "skin": "26 °C", "humidity": "45 %"},
    ),
    ImportTable(
        "stops",
        "why the work stood still",
        diary.log_stop,
        {"on": "2026-03-05", "job": "1", "kind": "cold", "what": "hangar below 10 °C", "hours": "3 h"},
    ),
    ImportTable(
        "coats",
        "one coat laid on each surface",
        diary.log_coat,
        {
            "on": "2026-03-05", "job": "1", "material": "sealant", "surfaces": "left wing",
            "label": "B-204", "layer": "1",
        },
    ),
    ImportTable(
        "masks",
        "masks put on or taken off",
        diary.log_mask,
        {"on": "2026-03-05", "job": "1", "way": "on", "item": "static port", "count": "2"},
    ),
    ImportTable(
        "mask-looks",
        "a second look at the masks by a named person",
        looks.look_at_masks,
        {"on": "2026-03-06", "job": "1", "by": "Kim Soto"},
    ),
    ImportTable(
        "notes",
        "a note in the diary of a job",
        diary.log_note,
        {"on": "2026-03-05", "job": "1", "note": "Old sealant seam at the fuel cap, owner told."},
    ),
    ImportTable(
        "payments",
        "money that came in, and the invoices it settles",
        billing.take_payment,
        {
            "on": "2026-07-20", "customer": "alder", "amount": "150.00", "method": "check",
            "invoices": "2026-0001", "reference": "check 1044",
        },
        careful=MONEY,
    ),
    ImportTable(
        "deposits",
        "money that came in for a job before its invoice",
        deposits.take_deposit,
        {
            "on": "2026-03-04", "customer": "alder", "job": "1", "amount": "200.00", "method": "check",
            "reference": "check 1040",
        },
        careful=MONEY,
    ),
    ImportTable(
        "upkeep-done",
        "upkeep done on the coatings of an aircraft, by anyone",
        upkeep.write_done,
        {"on": "2026-08-01", "aircraft": "N123AB", "item": "wash", "by": "the owner", "evidence": "photo by mail"},
    ),
)  # fmt: skip

TABLES = {table.name: table for table in _TABLES}


def table_named(name: str) -> ImportTable:
    """The import table a person means. Raises Misuse for an unknown one."""
    table = TABLES.get(name.strip().lower().replace("_", "-").replace(" ", "-"))
    if table is None:
        raise Misuse(f"{shown(name[:60])!r} is no import table: `coatbook import --list` shows those there are")
    return table


def template(table: ImportTable) -> list[tuple[str, ...]]:
    """The heading row, and one row that would import in a book that has what it names."""
    return [tuple(table.columns), tuple(table.example.get(name, "") for name in table.columns)]


def explained(table: ImportTable) -> Iterator[tuple[str, str]]:
    """Each column with what it takes."""
    for name, column in table.columns.items():
        yield name, f"{column.takes}{', always' if column.required else ''}"
