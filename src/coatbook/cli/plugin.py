"""`coatbook plugin`: the calculators' plug-ins."""

from typing import Annotated

import typer

from coatbook.cli.common import AsJson, columns, plain_app, say, say_json, settings

NAME = "plugin"
app = plain_app("The plug-ins that bring calculators.")


@app.command("list")
def list_all(ctx: typer.Context, json: AsJson = False) -> None:
    """List the plug-ins with origin, version and what they bring; one that cannot be used is named with the reason.

    \b
    Example:
      coatbook plugin list
    """
    from coatbook.calculators.host import contained
    from coatbook.desk.hosting import host_for
    from coatbook.values import frozen

    catalog = host_for(settings(ctx).no_plugins).plugins.catalog()
    if json:
        say_json(frozen.plain(catalog))
        return
    rows = [(one.name, f"{one.origin} {one.version}", one.standing, ", ".join(one.calculators)) for one in catalog]
    say(columns(("plug-in", "from", "standing", "calculators"), rows))
    for one in catalog:
        if one.reason:
            say(f"{one.name} is {one.standing}: {one.reason}")
    if not contained():
        say("This system has no fork: calculators run inside the program, without limits of time or memory.")


@app.command("enable")
def enable(name: Annotated[str, typer.Argument(help="The plug-in's name.")]) -> None:
    """Let a plug-in from elsewhere take part. It runs with your rights: enable only what you trust.

    \b
    Example:
      coatbook plugin enable NAME
    """
    from coatbook.desk.hosting import enable as set_enabled

    say(set_enabled(name, True))


@app.command("disable")
def disable(name: Annotated[str, typer.Argument(help="The plug-in's name.")]) -> None:
    """Leave a plug-in from elsewhere out again.

    \b
    Example:
      coatbook plugin disable NAME
    """
    from coatbook.desk.hosting import enable as set_enabled

    say(set_enabled(name, False))
