"""The season's files as the commands a user would type instead: one command for each row."""

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Typed:
    """How a row is typed: the command, the columns that are its arguments, and the option of each other column.

    A column with several values, parted by ; in the file, stands among `several`; `flags` are columns of yes and no.
    """

    command: str
    arguments: Sequence[str]
    options: dict[str, str]
    several: Sequence[str] = ()
    flags: Sequence[str] = ()
    more: Sequence[str] = ()


def _same(*columns: str) -> dict[str, str]:
    """Columns whose option bears their own name."""
    return {column: f"--{column.replace('_', '-')}" for column in columns}


FROM = {"from_on": "--from"}
TABLES = {
    "customers": Typed("customer add", ["code"], _same("name", "address", "email", "phone")),
    "sites": Typed(
        "site add", ["code"], _same("name", "place", "airport", "address", "landlord", "access", "power", "water")
    ),
    "workers": Typed("worker add", ["code"], _same("name", "kind", "rate", "on_cost")),
    "papers": Typed("paper add", ["kind"], _same("of", "issuer", "number", "amount", "expires") | FROM),
    "exemptions": Typed("tax exempt", ["customer", "place"], _same("reason", "certificate", "expires") | FROM),
    "aircraft": Typed("aircraft add", ["code"], _same("maker", "model", "serial", "year", "mark", "owner") | FROM),
    "surfaces": Typed(
        "aircraft surface",
        ["aircraft", "name"],
        _same("area", "substrate", "paint", "balanced", "primer"),
        flags=["layers_known"],
    ),
    "times": Typed("aircraft times", ["aircraft", "clock", "hours"], {}),
    "marks": Typed("aircraft mark", ["aircraft", "mark"], FROM),
    "owners": Typed("aircraft owner", ["aircraft", "owner"], FROM),
    "materials": Typed(
        "material add",
        ["code"],
        _same("name", "unit", "evidence", "sds", "burn_evidence") | {"facts": "--fact", "hazards": "--hazard"},
        several=["facts", "hazards"],
    ),
    "services": Typed(
        "service add", ["code"], _same("name", "tax_kind", "price", "work") | {"basis": "--per"}, flags=["abrasive"]
    ),
    "tax-rates": Typed("tax add", ["place", "kind", "percent"], _same("name") | FROM),
    "purchases": Typed(
        "material buy", ["code", "quantity", "cost"], _same("supplier", "expires", "reference") | {"label": "--lot"}
    ),
    "jobs": Typed("job open", ["aircraft", "site", "asked_for"], _same("number", "payer")),
    "parties": Typed("job party", ["job", "role", "customer"], _same("share", "up_to")),
    "steps": Typed(
        "job plan",
        ["job", "service"],
        _same("removal", "passes", "hours")
        | {"surfaces": "--surface", "materials": "--material", "instead_of": "--drop", "change": "--change"},
        several=["surfaces", "materials"],
    ),
    "surface-conditions": Typed("job condition", ["job", "surface", "state"], _same("note")),
    "readings": Typed(
        "log reading", ["job", "surface"], _same("spot", "film", "gauge", "serial"), several=["film"]
    ),
    "signing": Typed("job signing", ["job", "kind"], _same("by", "document", "why", "certificate")),
    "deposits": Typed(
        "deposit take", ["customer", "amount"], _same("job", "method", "reference"), more=["--yes"]
    ),
    "arrivals": Typed("job arrive", ["job"], _same("by", "keepoff_seen_by")),
    "changes": Typed("job change", ["job", "what"], _same("by", "how", "price", "hours") | {"service": "--as"}),
    "masks": Typed("log mask", ["job", "way", "item", "count"], {}),
    "mask-looks": Typed("log mask", ["job", "=look"], _same("by")),
    "stops": Typed("log stop", ["job", "kind", "what"], _same("hours")),
    "conditions": Typed("log conditions", ["job"], _same("air", "skin", "humidity")),
    "hours": Typed("log hours", ["job", "worker", "hours"], _same("step", "note")),
    "shop-hours": Typed("log hours", ["=shop", "worker", "hours"], _same("note")),
    "uses": Typed("log use", ["job", "material", "quantity"], _same("step")),
    "expenses": Typed("log expense", ["job", "amount", "what"], {}),
    "shop-expenses": Typed("log expense", ["=shop", "amount", "what"], _same("category", "payee", "paid_from")),
    "travel": Typed("log travel", ["job", "distance", "where"], _same("rate")),
    "coats": Typed("log coat", ["job", "material", "surfaces"], {"label": "--lot"}, several=["surfaces"]),
    "notes": Typed("log note", ["job", "note"], {}),
    "handovers": Typed("job handover", ["job"], _same("to")),
    "payments": Typed(
        "payment take", ["customer", "amount"], _same("method", "reference") | {"invoices": "--invoice"},
        several=["invoices"], more=["--yes"],
    ),
}  # fmt: skip


def commands_of(script: list[list[str]], folder: Path) -> Iterator[list[str]]:
    """The script's commands, each import typed row by row."""
    for words in script:
        if words[:2] != ["coatbook", "import"]:
            yield words
        elif "--job" in words:  # a gauge's own file
            yield ["coatbook", "log", "reading", words[5], "--file", words[3], *words[6:]]
        else:
            with (folder / words[3]).open(encoding="utf-8", newline="") as file:
                yield from (_typed(words[2], row) for row in csv.DictReader(file))


def _typed(table: str, row: dict[str, str]) -> list[str]:
    if table == "terms":  # an interval is one word of the command and two columns of the file
        row = row | {"every": f"{row['every']} {row['per']}s"}
        how = Typed("material terms", ["code", "item"], _same("every", "opens_before", "grace", "miss"))
    else:
        how = TABLES[table]
    words = ["coatbook", *how.command.split()]
    for column in how.arguments:
        words += [column[1:]] if column.startswith("=") else _values(how, row, column)
    for column, option in how.options.items():
        words += [word for value in _values(how, row, column) for word in (option, value)]
    words += [f"--{column.replace('_', '-')}" for column in how.flags if row.get(column) == "yes"]
    if row.get("on"):
        words += ["--on", row["on"]]
    return [*words, *how.more]


def _values(how: Typed, row: dict[str, str], column: str) -> list[str]:
    value = row.get(column) or ""
    if column in how.several:
        return [part.strip() for part in value.split(";") if part.strip()]
    return [value] if value else []
