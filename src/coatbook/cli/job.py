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
    up_to: Annotated[str | None, typer.Option("--up-to", help="The sum up to which they may ask.")] = None,
    share: Annotated[
        str | None, typer.Option("--share", help="What one of several pays: '60 %', or a sum before tax, 250.00.")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write who has a role in a job; whoever had it is struck out.

    With --share the other payers stay: sums come first, shares are of what they leave, and one payer without a share
    takes the rest. Each gets an invoice of their own.

    \b
    Example:
      coatbook job party 1 pays alder
      coatbook job party 1 pays birch --share "40 %"
    """
    from coatbook.jobs import actions
    from coatbook.values import Money, Quantity

    by_share = share is not None and share.strip().endswith("%")
    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            actions.set_party,
            job=job,
            role=role,
            customer=customer,
            up_to=Money.parse(up_to, book.currency, "sum in --up-to") if up_to is not None else None,
            share=Quantity.parse(share, "share", "60 %") if share is not None and by_share else None,
            amount=Money.parse(share, book.currency, "share") if share is not None and not by_share else None,
        )


@app.command("plan")
def plan(
    ctx: typer.Context,
    job: Job,
    service: Annotated[str, typer.Argument(help="The service's code.")],
    surface: Annotated[
        list[str] | None, typer.Option("--surface", help="A surface it is done on; repeatable, one step for each.")
    ] = None,
    standard: Annotated[
        bool, typer.Option("--standard", help="Plan the service's standard steps, hours by area.")
    ] = False,
    passes: Annotated[int, typer.Option("--passes", help="How many passes.")] = 1,
    removal: Annotated[str | None, typer.Option("--removal", help="Film one pass takes, such as '1.5 µm'.")] = None,
    hours: Annotated[str | None, typer.Option("--hours", help="Planned hours of each step, such as 6h.")] = None,
    material: Annotated[list[str] | None, typer.Option("--material", help="A material's code; repeatable.")] = None,
    drop: Annotated[int | None, typer.Option("--drop", help="Strike this step first, to plan it anew.")] = None,
    change: Annotated[int | None, typer.Option("--change", help="The agreed change it is planned for.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Plan a service: one step for each surface, or with --standard each of its standard steps on each surface.

    Standard hours are the area times the standard, rounded up to 5 minutes. After the agreement a step is planned for
    an agreed change: --change N.

    \b
    Example:
      coatbook job plan 1 oxidation --surface "left wing" --surface "right wing" \\
        --passes 2 --removal "1.5 µm" --hours 5h --material compound
    """
    from coatbook.jobs import actions
    from coatbook.jobs.standard import plan_standard
    from coatbook.values import Misuse, Quantity

    if standard and (passes != 1 or removal or hours or material or drop is not None):
        raise Misuse("--standard takes passes, removal, hours and materials from the service: leave the others out")
    with opened(ctx) as book:
        if standard:
            write(
                ctx,
                book,
                Writing(on, key, again),
                plan_standard,
                job=job,
                service=service,
                surfaces=tuple(surface or ()),
                change=change,
            )
            return
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
            change=change,
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


@app.command("condition")
def condition(
    ctx: typer.Context,
    job: Job,
    surface: Annotated[str, typer.Argument(help="The surface that was looked at.")],
    state: Annotated[str, typer.Argument(metavar="CONDITION", help="sound, dull, chalking or failing.")],
    note: Annotated[str | None, typer.Option("--note", help="Anything worth remembering of it.")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write how the paint of a surface looks; of several looks the latest counts.

    \b
    Example:
      coatbook job condition 1 "left wing" chalking --note "worst at the root"
    """
    from coatbook.jobs import scope

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), scope.look_at, job=job, surface=surface, state=state, note=note)


@app.command("consent")
def consent(
    ctx: typer.Context,
    job: Job,
    surface: Annotated[str, typer.Argument(help="The surface the test spot is on.")],
    place: Annotated[str, typer.Option("--place", help="Where on it, such as 'under the flap'.")],
    size: Annotated[str, typer.Option("--size", help="How large, an area such as '0.05 ft2'.")],
    product: Annotated[str, typer.Option("--product", help="What is tried there.")],
    risk: Annotated[str, typer.Option("--risk", help="The risk that was told.")],
    by: Annotated[str, typer.Option("--by", help="Who consented, for the owner.")],
    how: Annotated[str, typer.Option("--how", help="How they did, such as 'by mail'.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write consent to a test spot: what was told, and who said yes to it. It is for that spot only.

    \b
    Example:
      coatbook job consent 1 "left wing" --place "under the flap" \\
        --size "0.05 ft2" --product "fine compound" \\
        --risk "color may come through" --by "Jo Alder" --how "by mail"
    """
    from coatbook.jobs import scope
    from coatbook.values import Quantity

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            scope.consent,
            job=job,
            surface=surface,
            place=place,
            size=Quantity.parse(size, "size", "0.05 ft2"),
            product=product,
            risk=risk,
            by=by,
            how=how,
        )


@app.command("signing")
def signing(
    ctx: typer.Context,
    job: Job,
    kind: Annotated[
        str,
        typer.Argument(
            help="'no entry expected', supervised, 'repair station' or \"owner's mechanic decides\".",
        ),
    ],
    by: Annotated[str, typer.Option("--by", help="Who signs, or who decided about it.")],
    document: Annotated[str, typer.Option("--document", help="The document it rests on.")],
    why: Annotated[str, typer.Option("--why", help="Why it is so.")],
    certificate: Annotated[
        str | None, typer.Option("--certificate", help="Their certificate, kind and number (else: none held).")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write who may do and sign the work of a job, settled before it starts. The latest counts.

    \b
    Example:
      coatbook job signing 1 supervised --by "R. Example" \\
        --certificate "mechanic 0000000" --document "work order 14" \\
        --why "polish and coating are entered after an inspection"
    """
    from coatbook.jobs import scope

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            scope.settle_signing,
            job=job,
            kind=kind,
            by=by,
            document=document,
            why=why,
            certificate=certificate,
        )


@app.command("change")
def change_scope(
    ctx: typer.Context,
    job: Job,
    what: Annotated[str, typer.Argument(help="What is changed, in a few words.")],
    by: Annotated[str, typer.Option("--by", help="Who agreed to it, for the owner.")],
    how: Annotated[str, typer.Option("--how", help="How they agreed, such as 'by phone'.")],
    price: Annotated[str | None, typer.Option("--price", help="Its own price, such as 180.00.")] = None,
    service: Annotated[str | None, typer.Option("--as", help="The service that price is charged as.")] = None,
    hours: Annotated[str | None, typer.Option("--hours", help="Hours more than planned, such as 2h (or -1h).")] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write a change of the scope that was agreed after the job was, before the handover.

    Without a price of its own, it is charged by the price list: for the steps planned with `job plan … --change N`.

    \b
    Example:
      coatbook job change 1 "polish the elevator too" --by "Jo Alder" \\
        --how "by phone" --price 180.00 --as polish --hours 2h
    """
    from coatbook.jobs import scope
    from coatbook.values import Money, Quantity

    with opened(ctx) as book:
        write(
            ctx,
            book,
            Writing(on, key, again),
            scope.change_scope,
            job=job,
            what=what,
            by=by,
            how=how,
            price=Money.parse(price, book.currency, "price") if price is not None else None,
            service=service,
            hours=Quantity.parse(hours, "hours of the change", "2h") if hours is not None else None,
        )


@app.command("arrive")
def arrive(
    ctx: typer.Context,
    job: Job,
    by: Annotated[str, typer.Option("--by", help="Who received the aircraft.")],
    keepoff_seen_by: Annotated[
        str | None, typer.Option("--keepoff-seen-by", help="Who held the keep-off list against the aircraft.")
    ] = None,
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that the aircraft is on the floor.

    One with a keep-off list is looked at with the list in hand, and the name of who did is written.

    \b
    Example:
      coatbook job arrive 1 --by "Sam Reed" --keepoff-seen-by "Kim Soto"
    """
    from coatbook.jobs import actions

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), actions.arrive, job=job, by=by, keepoff_seen_by=keepoff_seen_by)


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

    It is refused while a mask that went on has not come off or nobody has looked since (`log mask JOB look`), or
    while the safety gate stops a step without hours.

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


@app.command("photos")
def photos(
    ctx: typer.Context,
    job: Job,
    to: Annotated[str | None, typer.Option("--to", help="Write them into this folder.")] = None,
    on: AsOf = None,
    json: AsJson = False,
) -> None:
    """List the photos and papers kept with a job, or hand them out as files. No file is written over.

    \b
    Example:
      coatbook job photos 1 --to photos-of-job-1
    """
    from coatbook.desk.telling_diary import hand_out_photos, photo_rows

    with opened(ctx) as book:
        day = as_of(book, on)
        rows = photo_rows(book, job, day)
        if to is not None:
            hand_out_photos(book, job, day, to)
    if json:
        say_json(rows)
    elif not rows:
        say(f'No photos yet. Keep one with `coatbook log photo {job} FILE --caption "…"`.')
    else:
        cells = [(str(row["line"]), row["date"], row["file"], str(row["bytes"]), row["caption"]) for row in rows]
        say(columns(("line", "day", "file", "bytes", "caption"), cells, right=(0, 3)))


@app.command("cancel")
def cancel(
    ctx: typer.Context,
    job: Job,
    by: Annotated[str, typer.Option("--by", help="Who called it off.")],
    why: Annotated[str, typer.Option("--why", help="Why it will not be done.")],
    on: On = None,
    key: Key = None,
    again: Again = False,
) -> None:
    """Write that a job is called off, before its handover. What it cost so far counts from this day.

    After that no hours, materials or readings go on it; a bill, a trip or a note may still come.

    \b
    Example:
      coatbook job cancel 1 --by "Jo Alder" --why "the aircraft is sold"
    """
    from coatbook.jobs import scope

    with opened(ctx) as book:
        write(ctx, book, Writing(on, key, again), scope.call_off, job=job, by=by, why=why)


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
