"""`coatbook` alone: what needs a person today, or the first three things to type."""

import typer

from coatbook.cli.common import opened, say, settings

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
    from coatbook.desk.hosting import host_for
    from coatbook.desk.telling_today import today_story
    from coatbook.desk.today import today

    with opened(ctx) as book:
        say(today_story(today(book, host_for(settings(ctx).no_plugins))))
