"""`coatbook review`: what jobs and months earned."""

from typing import Annotated

import typer

from coatbook.cli.common import AsJson, AsOf, as_of, opened, plain_app, say, say_json

NAME = "review"
app = plain_app("What jobs and months earned.")


@app.command("job")
def job(
    ctx: typer.Context,
    number: Annotated[int, typer.Argument(help="The job's number.")],
    on: AsOf = None,
    json: AsJson = False,
) -> None:
    """Review one job: revenue, cost, profit, hours, month by month.

    \b
    Example:
      coatbook review job 1
    """
    from coatbook.desk.telling_review import job_data, job_story
    from coatbook.review.views import review_job

    with opened(ctx) as book, book.read() as session:
        found = review_job(session, number, as_of(book, on))
    if json:
        say_json(job_data(found, book.currency))
    else:
        say(job_story(found, book.currency))


@app.command("month")
def month(
    ctx: typer.Context,
    which: Annotated[str | None, typer.Argument(help="The month, YYYY-MM (else this one).")] = None,
    on: AsOf = None,
    json: AsJson = False,
) -> None:
    """Review a month: what it earned from which jobs, what is owed and in progress, tax by place.

    \b
    Example:
      coatbook review month 2026-07
    """
    from coatbook.desk.telling_review import month_data, month_story
    from coatbook.review.views import review_month
    from coatbook.values import Refusal
    from coatbook.values.days import Month

    with opened(ctx) as book, book.read() as session:
        day = as_of(book, on)
        wanted = Month.parse(which) if which else Month.of(day)
        if wanted.first > day:
            raise Refusal(f"{wanted} has not begun by {day}: there is nothing to review")
        found = review_month(session, wanted, day)
    if json:
        say_json(month_data(found, book.currency))
    else:
        say(month_story(found, book.currency))
