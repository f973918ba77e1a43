"""What jobs ask the database is answered the same on SQLite and on PostgreSQL."""

import datetime as dt
from typing import Any

from coatbook.jobs import actions as jobs
from coatbook.jobs import diary as lines
from coatbook.jobs import gauges, looks, photos, scope, shop, standard
from coatbook.jobs.gauge_file import Spot
from coatbook.jobs.views import (
    changes_of,
    conditions_of,
    consents_of,
    diary,
    film_readings,
    find_job,
    job_view,
    parties_of,
    steps_of,
    undecided_steps,
)
from coatbook.store.book import Book
from store.season import basics, do, quantity, usd

DAY, TODAY = "2026-07-01", dt.date(2026, 8, 20)
PNG = b"\x89PNG\r\n\x1a\n pixels"
GAUGE: dict[str, Any] = {"gauge": "eddy current", "serial": "G-1"}
CHECK: dict[str, Any] = GAUGE | {"zero": quantity("0 µm"), "shim": quantity("50 µm")}
SPOT: dict[str, Any] = {"place": "flap", "size": quantity("0.05 ft2"), "product": "compound", "risk": "color loss"}


def test_a_job_that_is_called_off(any_book: Book) -> None:
    basics(any_book)

    def write(action: Any, **values: Any) -> Any:
        return do(any_book, DAY, action, **values).result

    job = write(jobs.open_job, aircraft="archer", site="mesa", asked_for="Polish")
    write(jobs.set_party, job=job, role="asks", customer="hill", up_to=usd("900.00"))
    write(scope.look_at, job=job, surface="left wing", state="dull")
    write(scope.consent, job=job, surface="left wing", by="Hill", how="by mail", **SPOT)
    timed = {"hours": quantity("12 min"), "per_area": quantity("10 ft2"), "removal": quantity("1 µm")}
    write(standard.add_standard_step, service="polish", name="Compound", material="sealant", **timed)
    write(standard.plan_standard, job=job, service="polish", surfaces=["left wing"])
    write(gauges.check_gauge, job=job, stage="before", shim_read=quantity("50 µm"), **CHECK)
    write(lines.log_film, job=job, spots=[Spot("left wing", "1", (quantity("60 µm"),))], **GAUGE)
    assert write(gauges.check_gauge, job=job, stage="after", shim_read=quantity("60 µm"), **CHECK) == 1
    write(jobs.agree, job=job, by="Hill", findings=(), results=())
    write(
        scope.change_scope, job=job, what="the tail too", by="Hill", how="by phone", price=usd("40.00"), service="wash"
    )
    write(jobs.plan_steps, job=job, service="wash", change=1)
    write(jobs.arrive, job=job, by="Sam")
    write(lines.log_mask, job=job, way="on", item="pitot", count=1)
    write(lines.log_mask, job=job, way="off", item="pitot", count=1)
    write(looks.look_at_masks, job=job, by="Lee Moor")
    write(photos.log_photo, job=job, name="wing.png", content=PNG, caption="Left wing")
    write(lines.log_stop, job=job, kind="cold", what="frost", hours=quantity("2 h"))
    write(shop.log_shop_hours, worker="lee", hours=quantity("1 h"))
    write(scope.call_off, job=job, by="Hill", why="the aircraft is sold")
    with any_book.read() as session:
        row = find_job(session, job)
        view = job_view(session, row, TODAY)
        assert (view.state, view.called_off_why) == ("called off", "the aircraft is sold")
        assert view.looked_at == dt.date.fromisoformat(DAY)
        assert [one.up_to for one in parties_of(session, row.id)] == [None, 90_000, None, None]
        assert [(one.surface, one.state) for one in conditions_of(session, row.id, TODAY)] == [("left wing", "dull")]
        assert [one.size for one in consents_of(session, row.id)] == [SPOT["size"]]
        assert [(one.n, one.service) for one in changes_of(session, row.id)] == [(1, "wash")]
        assert [(one.name, one.change) for one in steps_of(session, row.id)] == [("Compound", None), (None, 1)]
        assert [one.key for one in undecided_steps(session, row.id)] == [1]
        assert film_readings(session, row.id, every_stage=True) == ()
        kinds = [one.kind for one in diary(session, row.id, TODAY)]
        assert kinds == ["gauge", "gauge", "mask", "mask", "photo", "stop"]
        assert [one.kind for one in diary(session, None, TODAY)] == ["hours"]
        (photo,) = photos.photos_of(session, row.id, TODAY)
        assert (photo.size, photos.content_of(session, photo)) == (len(PNG), PNG)
