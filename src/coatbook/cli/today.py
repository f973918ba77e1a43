"""`coatbook` alone: what needs a person today, or the first three things to type."""

import typer

from coatbook.cli.common import columns, opened, say, settings

FIRST_STEPS = """There is no book yet. The first three things to type:

  coatbook init --name "YOUR SHOP" --address "STREET\\nTOWN" --zone America/Chicago
  coatbook customer add CODE --name "FULL NAME" --address "STREET\\nTOWN"
  coatbook aircraft add CODE --maker MAKER --model MODEL --serial NUMBER \\
    --mark N123AB --owner CODE

`coatbook --help` lists all there is; every command has --help with an example."""


def show_today(ctx: typer.Context) -> None:
    from pathlib import Path

    from coatbook.desk.opening import default_place

    where = settings(ctx).book or default_place()
    if "://" not in where and not Path(where).exists():
        say(FIRST_STEPS)
        return
    _show(ctx)


def _show(ctx: typer.Context) -> None:
    from coatbook.desk.today import today
    from coatbook.values.words import count

    with opened(ctx) as book:
        found = today(book)
    if found.empty:
        say(f"The book of {found.shop} has no job yet. Open one with `coatbook job open MARK SITE WORK`.")
        return
    rows = [
        *(
            ("invoice", f"job {job.number}", job.airframe.called, f"coatbook invoice issue {job.number}")
            for job in found.to_invoice
        ),
        *(
            (
                "collect",
                f"invoice {one.record.number}",
                f"{one.late} days late",
                f"coatbook invoice show {one.record.number}",
            )
            for one in found.late
        ),
        *(
            ("work on", f"job {job.number}", job.airframe.called, f"coatbook job show {job.number}")
            for job in found.on_floor
        ),
        *(
            ("agree", f"job {job.number}", job.airframe.called, f"coatbook job agree {job.number}")
            for job in found.to_agree
        ),
    ]
    if not rows:
        say(f"Nothing in the book of {found.shop} waits for a person today.")
    else:
        wait = "waits" if len(rows) == 1 else "wait"
        say(f"{count(len(rows), 'thing')} in the book of {found.shop} {wait} for a person today.\n")
        say(columns(("what", "which", "", "command"), rows))
    say("\nReminders to owners: `coatbook remind preview`. The month: `coatbook review month`.")
