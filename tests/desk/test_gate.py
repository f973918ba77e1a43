"""The safety gate: what stands before work on an aircraft's skin, and who passes it."""

from collections.abc import Callable, Sequence

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.aircraft.actions import edit_surface
from coatbook.calculators import Result, Verdict
from coatbook.desk.agreeing import agree_job, authorize, hand_over, log_coat, log_hours
from coatbook.desk.telling_gate import authority_sentences
from coatbook.jobs import actions as jobs
from coatbook.jobs import diary
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.scope import consent as consent_to_spot
from coatbook.jobs.scope import settle_signing
from coatbook.jobs.tables import Authority, CalculatorResult, JobEvent
from coatbook.jobs.views import film_readings, find_job
from coatbook.store.acts import Told
from coatbook.store.book import Book
from coatbook.values import Refusal
from desk.injected import Inputs, calculator, put, raises
from desk.shopfloor import CLAIM, CLEAR, THIN, TODAY, agree, ask, begin, do, hours, new_job, quantity, read_film, strike

DAY, NEXT = "2026-04-01", "2026-04-02"
STOPPED = r"the safety gate stops job 1 \(left wing: "


def counted(book: Book, table: type) -> int:
    with book.read() as session:
        return len(session.scalars(select(table)).all())


def passed(session: Session) -> Sequence[Authority]:
    """Who passed a gate; who may sign the work is another matter."""
    return session.scalars(select(Authority).where(Authority.gate != "work")).all()


def balance(book: Book, answer: str, day: str = DAY) -> None:
    do(book, day, edit_surface, aircraft="skylane", name="elevator", balanced=answer)


def test_without_readings_the_film_is_unknown_and_stops(shop: Book) -> None:
    with pytest.raises(Refusal, match=f"{STOPPED}no film was read on left wing") as refusal:
        agree(shop, DAY)
    assert "--on-authority NAME --certificate … --document … --why …" in str(refusal.value)
    assert counted(shop, JobEvent) == counted(shop, CalculatorResult) == 0


def test_too_few_spots_are_unknown_and_stop(shop: Book) -> None:
    read_film(shop, DAY, CLEAR[:4])
    with pytest.raises(Refusal, match=f"{STOPPED}it has 4 spots"):
        agree(shop, DAY)


def test_enough_film_passes_and_the_answers_are_kept(shop: Book) -> None:
    read_film(shop, DAY)
    assert agree(shop, DAY).text.startswith("Job 1 is agreed with Jo Alder.\nCaution: rivet heads, laps and edges")
    with shop.read() as session:
        kept = {row.calculator: row for row in session.scalars(select(CalculatorResult))}
    assert {"thickness", "coverage"} <= set(kept)
    assert '"level":"go"' in kept["thickness"].result
    with shop.read() as session:
        assert not passed(session)


def test_no_film_to_spare_stops(shop: Book) -> None:
    read_film(shop, DAY, THIN)
    with pytest.raises(Refusal, match=f"{STOPPED}it has no film to spare"):
        agree(shop, DAY)


def test_work_that_takes_no_film_off_needs_no_reading(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()), ("coating", ("left wing",)))
    assert agree(shop, DAY, job).text == "Job 2 is agreed with Jo Alder."


def test_an_authority_passes_and_is_written_with_what_it_saw(shop: Book) -> None:
    read_film(shop, DAY, THIN)
    told = agree(shop, DAY, claim=CLAIM).text
    assert told.startswith("Gate passed on authority of R. Moor for left wing: it has no film to spare")
    with shop.read() as session:
        (row,) = passed(session)
        assert (row.gate, row.of, row.name, row.certificate) == ("film", "left wing", CLAIM.name, CLAIM.certificate)
        assert len(row.seen) == 64
        ((_, sentence),) = authority_sentences(session, find_job(session, 1).id, TODAY)
    assert sentence.startswith("Film gate of left wing (stop: it has no film to spare, its margin is ")
    assert ") passed on 2026-04-01 by R. Moor, mechanic 0000001, on maintenance manual 51-10: the paint" in sentence
    assert hours(shop, NEXT, "sam", "1 h", step=2)  # nothing changed since


def test_an_authority_may_be_written_before_the_agreement(shop: Book) -> None:
    told = authorize(shop, ask(DAY), job=1, claim=CLAIM, surface="Left Wing").text
    assert told.startswith("Gate passed on authority of R. Moor for left wing")
    assert agree(shop, NEXT).text.startswith("Job 1 is agreed with Jo Alder.")


def test_there_is_nothing_to_pass_where_nothing_stops(shop: Book) -> None:
    read_film(shop, DAY)
    with pytest.raises(Refusal, match="the gate finds nothing to pass on job 1: nothing was written"):
        authorize(shop, ask(DAY), job=1, claim=CLAIM)
    with pytest.raises(Refusal, match="nothing to pass on job 1 on elevator"):
        authorize(shop, ask(DAY), job=1, claim=CLAIM, surface="elevator")


def test_a_new_reading_brings_the_gate_back_before_the_first_hours(shop: Book) -> None:
    agree(shop, DAY, claim=CLAIM)
    line = read_film(shop, DAY, THIN)
    with pytest.raises(Refusal, match=f"{STOPPED}it has no film to spare"):
        hours(shop, NEXT, "sam", "1 h", step=2)
    strike(shop, line)  # and as it was seen, it is passed
    assert hours(shop, NEXT, "sam", "1 h", step=2)


def test_an_authority_for_the_new_reading_passes_it_too(shop: Book) -> None:
    agree(shop, DAY, claim=CLAIM)
    read_film(shop, DAY, THIN)
    authorize(shop, ask(NEXT), job=1, claim=CLAIM)
    assert hours(shop, NEXT, "sam", "1 h", step=2)


def test_a_struck_authority_passes_nothing(shop: Book) -> None:
    agree(shop, DAY, claim=CLAIM)
    strike(shop, "authority:1")
    with pytest.raises(Refusal, match=STOPPED):
        hours(shop, NEXT, "sam", "1 h", step=2)


def test_enough_film_read_too_late_for_the_agreement_still_passes_the_hours(shop: Book) -> None:
    agree(shop, DAY, claim=CLAIM)
    read_film(shop, NEXT)
    assert hours(shop, NEXT, "sam", "1 h", step=2)


def test_a_step_that_takes_more_brings_the_gate_back(shop: Book) -> None:
    read_film(shop, DAY)
    agree(shop, DAY)
    more = {"surfaces": ["left wing"], "removal": quantity("200 µm"), "instead_of": 2}
    do(shop, DAY, jobs.plan_steps, job=1, service="polish", **more)
    with pytest.raises(Refusal, match=f"{STOPPED}it has a margin of .* less than the first planned pass takes"):
        hours(shop, NEXT, "sam", "1 h", step=4)


def test_hours_that_name_no_step_may_begin_any(shop: Book) -> None:
    agree(shop, DAY, claim=CLAIM)
    read_film(shop, DAY, THIN)
    with pytest.raises(Refusal, match=STOPPED):
        hours(shop, NEXT, "sam", "1 h")
    assert hours(shop, NEXT, "sam", "1 h", step=1)  # the wash takes nothing off


def test_once_begun_a_step_goes_on(shop: Book) -> None:
    clear = read_film(shop, DAY)
    agree(shop, DAY)
    first = hours(shop, NEXT, "sam", "1 h", step=2)
    strike(shop, clear)
    read_film(shop, NEXT, THIN)
    second = hours(shop, NEXT, "kim", "1 h", step=2)
    strike(shop, second)
    strike(shop, first)  # and it was never begun
    with pytest.raises(Refusal, match=STOPPED):
        hours(shop, NEXT, "sam", "1 h", step=2)


def test_what_is_no_control_surface_passes(shop: Book) -> None:
    balance(shop, "no")
    assert agree(shop, DAY, new_job(shop, DAY, ("coating", ("elevator",)))).text


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        ("yes", "it is a control surface that must be balanced"),
        ("unknown", "whether it is a control surface that must be balanced is not known"),
    ],
)
def test_a_control_surface_stops_any_step_on_it(shop: Book, answer: str, words: str) -> None:
    balance(shop, answer)
    job = new_job(shop, DAY, ("coating", ("elevator", "left wing")))
    with pytest.raises(Refusal, match=f"elevator: {words}"):
        agree(shop, DAY, job)
    agree(shop, DAY, job, CLAIM)
    with shop.read() as session:
        assert [row.gate for row in passed(session)] == ["balance"]
    assert hours(shop, NEXT, "sam", "1 h", step=1, job=job)


def test_a_balance_that_turns_out_unknown_stops_the_first_hours(shop: Book) -> None:
    job = new_job(shop, DAY, ("coating", ("elevator", "left wing")))
    agree(shop, DAY, job)
    balance(shop, "unknown", NEXT)
    with pytest.raises(Refusal, match="elevator: whether it is a control surface that must be balanced is not known"):
        hours(shop, NEXT, "sam", "1 h", step=1, job=job)
    assert hours(shop, NEXT, "sam", "1 h", step=2, job=job)  # the left wing is not in doubt


def test_what_turns_out_no_control_surface_passes_the_first_hours(shop: Book) -> None:
    balance(shop, "unknown")
    job = new_job(shop, DAY, ("coating", ("elevator",)))
    agree(shop, DAY, job, CLAIM)
    balance(shop, "no", NEXT)
    assert hours(shop, NEXT, "sam", "1 h", step=1, job=job)


def test_a_coat_is_work_on_the_surface_hours_or_not(shop: Book) -> None:
    job = new_job(shop, DAY, ("coating", ("elevator", "left wing")))
    begin(shop, DAY, job)
    balance(shop, "yes")
    with pytest.raises(Refusal, match="elevator: it is a control surface that must be balanced"):
        coat(shop, DAY, job, "elevator")
    assert coat(shop, DAY, job, "left wing").result == (1,)
    authorize(shop, ask(DAY), job=job, claim=CLAIM)
    assert coat(shop, DAY, job, "Elevator").result == (2,)


def test_a_coat_needs_a_step_on_its_surface(shop: Book) -> None:
    job = new_job(shop, DAY, ("coating", ("left wing",)))
    with pytest.raises(Refusal, match="job 2 is not on the floor yet: `coatbook job arrive 2` comes before a coat"):
        coat(shop, DAY, job, "left wing")
    begin(shop, DAY, job)
    with pytest.raises(Refusal, match="nothing is planned on elevator in job 2: plan the coating first"):
        coat(shop, DAY, job, "elevator")
    do(shop, DAY, jobs.hand_over, job=job, to="Jo Alder")
    with pytest.raises(Refusal, match="job 2 was handed over on 2026-04-01, and a coat would come after"):
        coat(shop, DAY, job, "left wing")


def coat(book: Book, day: str, job: int, *surfaces: str) -> Told[tuple[int, ...]]:
    given = {"job": job, "material": "sealant", "surfaces": surfaces, "label": "B-204"}
    return log_coat(book, ask(day, "log coat"), False, **given)


def test_a_step_planned_late_and_worked_without_hours_stops_the_handover(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    begin(shop, DAY, job)
    late = {"service": "polish", "surfaces": ["left wing"], "removal": quantity("1 µm")}
    told = do(shop, DAY, jobs.plan_steps, job=job, **late).text
    assert "The safety gate looks at it before its first hours and again at the handover." in told
    with pytest.raises(Refusal, match=r"the safety gate stops job 2 \(left wing: no film was read"):
        hand_over(shop, ask(NEXT), False, job=job, to="Jo Alder")
    strike(shop, "step:5")  # it was not done after all
    assert hand_over(shop, ask(NEXT), False, job=job, to="Jo Alder").text


def test_a_step_that_was_begun_past_the_gate_is_not_stopped_at_the_handover(shop: Book) -> None:
    read_film(shop, DAY)
    begin(shop, DAY, 1)
    hours(shop, DAY, "sam", "1 h", step=2)
    read_film(shop, NEXT, THIN)  # polished thin: too late to stop it
    assert hand_over(shop, ask(NEXT), False, job=1, to="Jo Alder").text


def test_care_is_told_at_the_agreement(shop: Book) -> None:
    read_film(shop, DAY, ("60", "61", "60", "62", "61"))
    low = [Spot("left wing", "edge", tuple(quantity(one) for one in ("60 µm", "61 µm", "27 µm")))]
    do(shop, DAY, diary.log_film, job=1, spots=low, gauge="eddy current", serial="G-1042")
    assert "but spot edge has less: leave it to hand work." in agree(shop, DAY).text


def test_an_agreement_is_no_older_than_what_it_rests_on(shop: Book) -> None:
    read_film(shop, NEXT)
    with pytest.raises(Refusal, match="the agreement on 2026-04-01 would come before the plan and the readings"):
        agree(shop, DAY)
    assert agree(shop, NEXT)


def test_of_a_spot_read_again_the_latest_readings_count(shop: Book) -> None:
    read_film(shop, DAY)
    read_film(shop, NEXT, THIN)  # the same spots: what was there is gone
    with pytest.raises(Refusal, match=f"{STOPPED}it has no film to spare"):
        agree(shop, NEXT)


def test_readings_of_a_spot_on_one_day_by_one_gauge_are_one_set(shop: Book) -> None:
    for value in CLEAR[:3]:
        spot = [Spot("left wing", "Root" if value == CLEAR[0] else "root", (quantity(f"{value} µm"),))]
        do(shop, DAY, diary.log_film, job=1, spots=spot, gauge="eddy current", serial="G-1042")
    with shop.read() as session:
        read = film_readings(session, find_job(session, 1).id)
    assert [(one.spot, str(one.value)) for one in read] == [("Root", f"{value} µm") for value in CLEAR[:3]]


@pytest.fixture
def upholstery(shop: Book) -> int:
    """A job of leather work, its product without burn evidence."""
    do(shop, DAY, jobs.add_service, code="leather", name="Leather repair", abrasive=False, work="leather")
    job = new_job(shop, DAY)
    do(shop, DAY, jobs.plan_steps, job=job, service="leather", materials=("sealant",))
    return job


def test_leather_work_without_burn_evidence_stops(shop: Book, upholstery: int) -> None:
    lacking = (
        "cabin: what interior burn requirement this aircraft stands under is not known "
        "and no burn evidence is on file for sealant"
    )
    with pytest.raises(Refusal, match=lacking):
        agree(shop, DAY, upholstery)
    assert "Gate passed on authority of R. Moor for cabin" in agree(shop, DAY, upholstery, CLAIM).text


def test_work_that_has_to_be_signed_waits_until_it_is_settled_who_signs(shop: Book) -> None:
    job = new_job(shop, DAY, ("wash", ()))
    do(shop, DAY, jobs.plan_steps, job=job, service="polish", surfaces=["left wing"], removal=quantity("1 µm"))
    told = agree_job(shop, ask(DAY), job=job, by="Jo Alder", claim=CLAIM).text
    assert told.endswith("Next, before step 2: who may do and sign the work, `coatbook job signing 2 …`.")
    with pytest.raises(Refusal, match="the work of job 2 is not settled, and step 2, Prep polish, waits for it"):
        hours(shop, DAY, "sam", "1 h", step=2, job=job)
    assert hours(shop, DAY, "sam", "1 h", step=1, job=job)
    do(shop, DAY, settle_signing, job=job, kind="no entry expected", by="R. Moor", document="51-10", why="cosmetic")
    assert hours(shop, DAY, "sam", "1 h", step=2, job=job)


def test_a_consented_test_spot_lifts_what_is_unknown_for_itself_only(shop: Book) -> None:
    do(shop, DAY, edit_surface, aircraft="skylane", name="left wing", layers_known=False)
    read_film(shop, DAY)
    do(shop, DAY, settle_signing, job=1, kind="no entry expected", by="R. Moor", document="51-10", why="cosmetic")
    with pytest.raises(Refusal, match="no consent to a test spot on left wing stands in job 1: write it with"):
        spot(shop)
    consent = {"place": "inboard of the tank", "size": quantity("1 ft2"), "product": "medium compound"}
    told = {"risk": "the color may thin", "by": "Jo Alder", "how": "by mail"}
    do(shop, DAY, consent_to_spot, job=1, surface="left wing", **consent, **told)
    assert spot(shop)
    with pytest.raises(Refusal, match=f"{STOPPED}it is not known what the film of left wing is made of"):
        hours(shop, NEXT, "sam", "1 h", step=2)  # the spot has not begun the step
    do(shop, NEXT, edit_surface, aircraft="skylane", name="left wing", balanced="yes")
    with pytest.raises(Refusal, match="it is a control surface that must be balanced"):
        spot(shop)  # a test spot lifts nothing but unknown film


def spot(book: Book) -> Told[int]:
    time = quantity("0.5 h")
    return log_hours(book, ask(NEXT), False, job=1, worker="sam", hours=time, step=2, test_spot=True)


def test_a_film_calculator_that_fails_counts_as_unknown_and_is_named(
    shop: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    put(monkeypatch, calculator("thickness", raises))
    read_film(shop, DAY)
    with pytest.raises(Refusal, match=f"{STOPPED}the calculator thickness 7 raised ValueError: the paint is wet"):
        agree(shop, DAY)


def test_another_calculators_failure_is_told_and_stops_nothing(shop: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    put(monkeypatch, calculator("gloss", raises))
    read_film(shop, DAY)
    told = agree(shop, DAY).text
    assert told.startswith("Note: the calculator gloss 7 raised ValueError: the paint is wet")
    assert "\nJob 1 is agreed with Jo Alder.\n" in told


@pytest.mark.parametrize(("level", "stops"), [("go", False), ("care", False), ("unknown", True), ("stop", True)])
def test_another_calculators_verdict_stops_the_steps_it_names(
    shop: Book, monkeypatch: pytest.MonkeyPatch, level: str, stops: bool
) -> None:
    put(monkeypatch, calculator("burn", verdict(level)))
    read_film(shop, DAY)
    if stops:
        with pytest.raises(Refusal, match=r"\(left wing: the cloth has no burn evidence\)"):
            agree(shop, DAY)
    else:
        agree(shop, DAY)


def verdict(level: str) -> Callable[[Inputs], Result]:
    def compute(inputs: Inputs) -> Result:
        return Result(verdicts=(Verdict(inputs.of, level, "the cloth has no burn evidence", ("3",)),))  # type: ignore[arg-type]

    return compute


def test_no_flag_passes_the_gate(furnished: object, command: Callable[..., tuple[int, str, str]]) -> None:
    for flag in ("--yes", "--force"):
        code, out, err = command("job", "agree", "1", "--by", "Jo Alder", "--on", DAY, flag)
        assert (code, out) == (2, "")
        assert "No such option" in err


def test_half_an_authority_is_none(furnished: object, refused: Callable[..., str]) -> None:
    told = refused("job", "agree", "1", "--by", "Jo Alder", "--on-authority", "R. Moor", "--why", "old paint", code=2)
    assert "an authority needs all of --on-authority NAME --certificate … --document … --why …" in told
