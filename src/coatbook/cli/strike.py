"""`coatbook strike`: rule out a line that was wrong; it stays legible."""

from typing import Annotated

import typer

from coatbook.cli.common import Key, On, Writing, opened, write


def strike(
    ctx: typer.Context,
    entry: Annotated[str, typer.Argument(help="A diary line's number, KIND:NUMBER such as payment:3, or last.")],
    why: Annotated[str, typer.Option("--why", help="What was wrong with it.")],
    on: On = None,
    key: Key = None,
) -> None:
    """Rule out a line that was wrong. It stays legible, and every figure is as if it had never stood.

    A line of a closed month is struck from the first open day on.

    \b
    Example:
      coatbook strike 12 --why "hours of another job"
      coatbook strike last --why "typed twice"
    """
    from coatbook.desk.striking import strike as strike_line

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again=True), strike_line, name=entry, why=why)
