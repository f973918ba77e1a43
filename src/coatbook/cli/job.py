"""`coatbook job`: from the question to the handover."""

from typing import TYPE_CHECKING, Annotated

import typer

from coatbook.cli.common import (
    Again,
    AsJson,
    AsOf,
    Key,
    On,
    Writing,
    as_of,
    ask,
    columns,
    opened,
    plain_app,
    say,
    say_done,
    say_json,
    settings,
    write,
    write_by,
)

if TYPE_CHECKING:
    from coatbook.desk.agreeing import Claim

NAME = "job"
app = plain_app("Jobs, from the question to the handover.")

Job = Annotated[int, typer.Argument(help="The job's number.")]
Name = Annotated[str | None, typer.Option("--on-authority", help="Name of who passes the safety gate.")]
Certificate = Annotated[str | None, typer.Option("--certificate", help="Their certificate, kind and number.")]
Document = Annotated[str | None, typer.Option("--document", help="The document they go by.")]
Why = Annotated[str | None, typer.Option("--why", help="Why the work may be done all the same.")]


@app.command("open")
def open_job(
    ctx: typer.Context,
    aircraft: Annotated[str, typer.Argument(help="Mark, aircraft code, or sn:SERIAL.")],
    site: Annotated[str, typer.Argument(help="The site's code.")],
    work: Annotated[str, typer.Argument(help="What was asked for, in a few words.")],
    payer: Annotated[str | None, typer.Option("--payer", help="Customer who pays (else the owner).")] = None,
    rework_of: Annotated[int | None, typer.Option("--rework-of", help="The job this one mends.")] = None,
    cause: Annotated[str | None, typer.Option("--cause", help="Why the rework is needed.")] = None,
    number: Annotated[int | None, typer.Option("--number", help="A number of your own (else the next).")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Open a job.

    \b
    Example:
      coatbook job open N123AB mesa "oxidation removal and coating"
    """
    from coatbook.jobs import actions

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.open_job,
            aircraft=aircraft,
            site=site,
            asked_for=work,
            payer=payer,
            rework_of=rework_of,
            cause=cause,
            number=number,
        )


@app.command("list")
def list_all(ctx: typer.Context, on: AsOf = None, json: AsJson = False) -> None:
    """List all jobs and how they stand.

    \b
    Example:
      coatbook job list --json
    """
    from coatbook.desk.telling import job_rows

    with opened(ctx) as book:
        rows = job_rows(book, as_of(book, on))
    if json:
        say_json(rows)
    elif not rows:
        say("No jobs yet. Open one with `coatbook job open MARK SITE WORK`.")
    else:
        table = [
            (str(row["job"]), row["mark"], row["customer"], row["state"], row["opened"], row["handed_over"] or "")
            for row in rows
        ]
        say(columns(("job", "aircraft", "customer", "state", "opened", "handed over"), table, right=(0,)))


@app.command("show")
def show(
    ctx: typer.Context,
    job: Job,
    struck: Annotated[bool, typer.Option("--struck", help="Show struck lines too.")] = False,
    on: AsOf = None,
) -> None:
    """Show a job: parties, plan, diary, and what was found.

    \b
    Example:
      coatbook job show 1
    """
    from coatbook.desk.telling import job_story

    with opened(ctx) as book:
        say(job_story(book, job, as_of(book, on), struck))


@app.command("party")
def party(
    ctx: typer.Context,
    job: Job,
    role: Annotated[str, typer.Argument(help="owner, asks, pays or hears.")],
    customer: Annotated[str, typer.Argument(help="The customer's code.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write who has a role in a job; whoever had it is struck out.

    \b
    Example:
      coatbook job party 1 pays alder
    """
    from coatbook.jobs import actions

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), actions.set_party, job=job, role=role, customer=customer)


@app.command("plan")
def plan(
    ctx: typer.Context,
    job: Job,
    service: Annotated[str, typer.Argument(help="The service's code.")],
    surface: Annotated[
        list[str] | None, typer.Option("--surface", help="A surface it is done on; repeatable, one step for each.")
    ] = None,
    passes: Annotated[int, typer.Option("--passes", help="How many passes.")] = 1,
    removal: Annotated[str | None, typer.Option("--removal", help="Film one pass takes, such as '1.5 µm'.")] = None,
    hours: Annotated[str | None, typer.Option("--hours", help="Planned hours of each step, such as 6h.")] = None,
    material: Annotated[list[str] | None, typer.Option("--material", help="A material's code; repeatable.")] = None,
    drop: Annotated[int | None, typer.Option("--drop", help="Strike this step first, to plan it anew.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Plan a service: one step for each surface.

    \b
    Example:
      coatbook job plan 1 oxidation --surface "left wing" --surface "right wing" \\
        --passes 2 --removal "1.5 µm" --hours 5h --material compound
    """
    from coatbook.jobs import actions
    from coatbook.values import Quantity

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.plan_steps,
            job=job,
            service=service,
            surfaces=tuple(surface or ()),
            passes=passes,
            removal=Quantity.parse(removal, "removal") if removal else None,
            hours=Quantity.parse(hours, "planned hours") if hours else None,
            materials=tuple(material or ()),
            instead_of=drop,
        )


@app.command("agree")
def agree(
    ctx: typer.Context,
    job: Job,
    by: Annotated[str, typer.Option("--by", help="Who agreed, for the owner.")],
    name: Name = None,
    certificate: Certificate = None,
    document: Document = None,
    why: Why = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that the owner agreed to the plan. The safety gate stands here: thin or unknown film stops abrasion.

    It is passed only by someone who may decide it: all of --on-authority, --certificate, --document and --why.

    \b
    Example:
      coatbook job agree 1 --by "Jo Alder"
    """
    from coatbook.desk.agreeing import agree_job

    with opened(ctx) as book:
        told = agree_job(
            book,
            ask(ctx, Writing(on, key, again)),
            job=job,
            by=by,
            claim=_claim(name, certificate, document, why),
            no_plugins=settings(ctx).no_plugins,
        )
        say_done(told.text)


@app.command("authority")
def authority(
    ctx: typer.Context,
    job: Job,
    name: Annotated[str, typer.Option("--on-authority", help="Name of who passes the safety gate.")],
    certificate: Annotated[str, typer.Option("--certificate", help="Their certificate, kind and number.")],
    document: Annotated[str, typer.Option("--document", help="The document they go by.")],
    why: Annotated[str, typer.Option("--why", help="Why the work may be done all the same.")],
    surface: Annotated[str | None, typer.Option("--surface", help="For this surface only.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write who passes the safety gate as it stands now.

    \b
    Example:
      coatbook job authority 1 --surface "left aileron" \\
        --on-authority "R. Example" --certificate "A&P 0000000" \\
        --document "maintenance manual, chapter 51" --why "balance checked after"
    """
    from coatbook.desk.agreeing import Claim, authorize

    with opened(ctx) as book:
        told = authorize(
            book,
            ask(ctx, Writing(on, key, again)),
            job=job,
            claim=Claim(name, certificate, document, why),
            surface=surface,
            no_plugins=settings(ctx).no_plugins,
        )
        say_done(told.text)


@app.command("arrive")
def arrive(
    ctx: typer.Context,
    job: Job,
    by: Annotated[str, typer.Option("--by", help="Who received the aircraft.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that the aircraft is on the floor.

    \b
    Example:
      coatbook job arrive 1 --by "Sam Reed"
    """
    from coatbook.jobs import actions

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), actions.arrive, job=job, by=by)


@app.command("handover")
def handover(
    ctx: typer.Context,
    job: Job,
    to: Annotated[str, typer.Option("--to", help="Who took the aircraft over.")],
    no_charge: Annotated[
        bool, typer.Option("--no-charge", help="There will be no invoice, as for a rework on the shop.")
    ] = False,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that the aircraft went back.

    It is refused while a mask that went on has not come off, or the safety gate stops a step without hours.

    \b
    Example:
      coatbook job handover 1 --to "Jo Alder"
    """
    from coatbook.desk.agreeing import hand_over

    without_plugins = settings(ctx).no_plugins
    with opened(ctx) as book:
        write_by(
            ctx,
            Writing(on, key, again),
            lambda ask: hand_over(book, ask, without_plugins, job=job, to=to, no_charge=no_charge),
        )


def _claim(name: str | None, certificate: str | None, document: str | None, why: str | None) -> "Claim | None":
    from coatbook.desk.agreeing import Claim
    from coatbook.values import Misuse

    if not any((name, certificate, document, why)):
        return None
    if not (name and certificate and document and why):
        raise Misuse(
            "an authority needs all of --on-authority NAME --certificate … --document … --why …: one is missing"
        )
    return Claim(name, certificate, document, why)
