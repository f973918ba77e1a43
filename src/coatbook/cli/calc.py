"""`coatbook calc NAME`: one command for each calculator, its options made from the calculator's inputs."""

import inspect
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperGroup

from coatbook.cli.common import Settings, as_of, opened, plain_app, say, say_json, settings

if TYPE_CHECKING:
    from coatbook.calculators import Calculator

NAME = "calc"


class Calculators(TyperGroup):
    """Lists the calculators of the plug-ins in use, and imports only the one that is asked for."""

    def list_commands(self, ctx: Any) -> list[str]:
        return [calculator.name for calculator in _host(ctx).plugins.all()]

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        return _command(_host(ctx).plugins.find(cmd_name))


app = typer.Typer(
    cls=Calculators,
    help="The calculators: from options, from a file, or from a job.\n\n\b\nExample:\n  coatbook calc coverage --help",
    add_completion=False,
    rich_markup_mode=None,
    no_args_is_help=True,
)


@app.callback()
def calc() -> None:
    """The calculators: from options, from a file, or from a job.

    \b
    Example:
      coatbook calc coverage --help
    """


def _host(ctx: Any) -> Any:
    from coatbook.desk.hosting import host_for

    found = ctx.find_object(Settings)
    return host_for(found.no_plugins if found else False)


def _command(calculator: "Calculator[Any]") -> Any:
    """A command whose parameters are the calculator's inputs, and four that all calculators share."""
    from coatbook.calculators.options import options

    own = {one.name: _parameter(one.name, list[str] | None, one.flag, one.help) for one in options(calculator)}

    def run(ctx: typer.Context, **given: Any) -> None:
        typed = {name: list(given[name]) for name in own if given[name]}
        _answer(ctx, calculator.name, typed, given["input_file"], given["job"], given["on"], given["json"])

    shared = [
        _parameter("input_file", Path | None, "--file", "A TOML file with inputs; options come before it."),
        _parameter("job", int | None, "--job", "Take what is not given from this job of the book."),
        _parameter("on", str | None, "--on", "As of this day, YYYY-MM-DD (else today)."),
        _parameter("json", bool, "--json", "Print data as JSON with stable keys.", default=False),
    ]
    context = inspect.Parameter("ctx", inspect.Parameter.KEYWORD_ONLY, annotation=typer.Context)
    parameters = [context, *own.values(), *shared]
    run.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    run.__annotations__ = {one.name: one.annotation for one in parameters}
    run.__doc__ = f"{calculator.summary}\n\n\b\nExample:\n  coatbook calc {calculator.name} --job 1"
    alone = plain_app("")
    alone.command(calculator.name)(run)
    return typer.main.get_command(alone)


def _parameter(name: str, kind: Any, flag: str, text: str, default: Any = None) -> inspect.Parameter:
    option = Annotated[kind, typer.Option(flag, help=text, metavar="VALUE", show_default=False)]
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=option)


def _answer(
    ctx: typer.Context,
    name: str,
    typed: dict[str, list[str]],
    file: Path | None,
    job: int | None,
    on: str | None,
    as_json: bool,
) -> None:
    from coatbook.calculators.options import read_toml
    from coatbook.desk.calculating import calculate
    from coatbook.desk.telling_answers import answers_data, answers_story
    from coatbook.values import Refusal

    content = read_toml(file) if file else None
    no_plugins = settings(ctx).no_plugins
    if job is None:
        answers = calculate(name, typed, content, no_plugins)
    else:
        with opened(ctx) as book:
            answers = calculate(name, typed, content, no_plugins, book, job, as_of(book, on))
    if as_json:
        say_json(answers_data(answers))
    elif any(one.result for one in answers):
        say(answers_story(answers))
    wrong = [one.failure or one.refusal for one in answers if one.result is None]
    if wrong:
        raise Refusal("\n".join(str(sentence) for sentence in wrong))
