"""What needs a person today, in words: one sentence, then each thing with the command that does it."""

from collections.abc import Iterable, Iterator

from coatbook.desk.today import Today
from coatbook.jobs.views import JobView
from coatbook.values.words import count, table

WIDEST_CELL = 17  # so that the longest command still stands on a screen of 80 columns
Row = tuple[str, str, str, str]


def today_story(found: Today) -> str:
    """What waits for a person, the most urgent first."""
    if found.empty:
        return f"The book of {found.shop} has no job yet. Open one with `coatbook job open MARK SITE WORK`."
    rows = [tuple(map(_cut, row[:3])) + row[3:] for row in _rows(found)]
    if not rows:
        told = [f"Nothing in the book of {found.shop} waits for a person today."]
    else:
        wait = "waits" if len(rows) == 1 else "wait"
        told = [f"{count(len(rows), 'thing')} in the book of {found.shop} {wait} for a person today.", ""]
        told.append(table(("what", "which", "", "type"), rows))
    for number in found.unsure:
        settle = f"`coatbook remind settle {number} --sent`, else `--not-sent`"
        told += ["", f"Message {number} may have gone or not: find out, then {settle}."]
    told += ["", "The month: `coatbook review month`. All commands: `coatbook --help`."]
    return "\n".join(told)


def _cut(text: str) -> str:
    return text if len(text) <= WIDEST_CELL else f"{text[: WIDEST_CELL - 1]}…"


def _rows(found: Today) -> Iterator[Row]:
    for number in found.unsure:
        yield "find out", f"message {number}", "unsure", "coatbook remind list"
    yield from _of_jobs("invoice", found.to_invoice, "coatbook invoice issue {}")
    for one in found.late:
        invoice = one.record.number
        yield "collect", f"invoice {invoice}", f"{count(one.late, 'day')} late", f"coatbook invoice show {invoice}"
    if found.to_send:
        yield "remind", count(found.to_send, "reminder"), "to be sent", "coatbook remind send"
    if found.held:
        yield "ask", count(found.held, "notice"), "held", "coatbook remind preview"
    if found.upkeep_unknown:
        yield "look into", count(found.upkeep_unknown, "coating"), "upkeep not known", "coatbook remind preview"
    yield from _of_jobs("work on", found.on_floor, "coatbook job show {}")
    yield from _of_jobs("receive", found.to_arrive, "coatbook job arrive {} --by NAME")
    yield from _of_jobs("agree", found.to_agree, "coatbook job agree {} --by NAME")
    yield from _of_jobs("plan", found.to_plan, "coatbook job plan {} SERVICE")


def _of_jobs(what: str, waiting: Iterable[JobView], command: str) -> Iterator[Row]:
    for job in waiting:
        yield what, f"job {job.number}", job.airframe.called, command.format(job.number)
