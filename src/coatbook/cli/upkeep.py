"""`coatbook upkeep`: what coatings need to keep their terms."""

from typing import Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    AsOf,
    Key,
    On,
    Writing,
    as_of,
    opened,
    plain_app,
    say,
    say_json,
    settings,
    write_by,
)

NAME = "upkeep"
app = plain_app("What coatings need to keep their terms.")

Mark = Annotated[str, typer.Argument(help="Mark, aircraft code, or sn:SERIAL.")]


@app.command("show")
def show(ctx: typer.Context, aircraft: Mark, on: AsOf = None, json: AsJson = False) -> None:
    """Show an aircraft's coatings and how their upkeep stands.

    \b
    Example:
      coatbook upkeep show N123AB
    """
    from coatbook.desk.telling_upkeep import upkeep_data, upkeep_story

    with opened(ctx) as book:
        data = upkeep_data(book, aircraft, as_of(book, on), settings(ctx).no_plugins)
    if json:
        say_json(data)
    else:
        say(upkeep_story(data))


@app.command("done")
def done(
    ctx: typer.Context,
    aircraft: Mark,
    item: Annotated[str, typer.Argument(help="What was done, as the terms name it.")],
    by: Annotated[str, typer.Option("--by", help="Who did it; anyone may.")],
    evidence: Annotated[str | None, typer.Option("--evidence", help="What shows it: a note, a photo.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write upkeep done on an aircraft's coatings, by anyone, and hear whether it is in time.

    \b
    Example:
      coatbook upkeep done N123AB "decontamination wash" \\
        --by owner --on 2026-12-01
    """
    from coatbook.desk.hosting import host_for
    from coatbook.desk.upkeep_done import write_done

    host = host_for(settings(ctx).no_plugins)
    with opened(ctx) as book:
        write_by(
            ctx,
            Writing(on, key, again),
            lambda ask: write_done(book, ask, host, aircraft=aircraft, item=item, by=by, evidence=evidence),
        )
