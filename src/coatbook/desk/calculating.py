"""Asking one calculator, from what was given or from a job."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from coatbook.calculators.host import Answer
from coatbook.calculators.options import read
from coatbook.desk.hosting import host_for
from coatbook.desk.sheets import job_sheet
from coatbook.jobs.views import find_job
from coatbook.store.book import Book
from coatbook.values import Refusal


def calculate(
    name: str,
    given: Mapping[str, Sequence[str]],
    toml: Mapping[str, Any] | None,
    no_plugins: bool,
    book: Book | None = None,
    job: int | None = None,
    on: dt.date | None = None,
) -> tuple[Answer, ...]:
    """What a calculator says: to one input from options and file, or to all it gathers from a job.

    What is given comes before what the job holds. Raises Misuse or Refusal in one sentence.
    """
    host = host_for(no_plugins)
    calculator = host.plugins.find(name)
    if book is None or job is None or on is None:
        return host.compute(name, [read(calculator, given, toml)])
    with book.read() as session:
        sheet = job_sheet(session, find_job(session, job), on, book.currency)
    book.engine.dispose()  # the calculators' child inherits no open connection
    found = host.answer(name, [sheet])
    if not found:
        raise Refusal(f"job {job} holds nothing for {name} to work on: see `coatbook job show {job}`")
    if not given and not toml:
        return found
    gathered = [one.inputs for one in found if one.inputs is not None]
    return host.compute(name, [read(calculator, given, toml, inputs) for inputs in gathered])
