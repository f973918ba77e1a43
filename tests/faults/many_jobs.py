"""Jobs that are handed over and not yet invoiced, on a furnished book."""

from coatbook.jobs import actions as jobs
from coatbook.store.acts import OpenAct


def hand_over_many(act: OpenAct, *, count: int) -> None:
    """Write `count` jobs by the rooms' own actions, as one act; they are numbered from 2 on."""
    for _ in range(count):
        number = jobs.open_job(act, aircraft="skylane", site="mesa", asked_for="wash")
        jobs.plan_steps(act, job=number, service="wash")
        jobs.agree(act, job=number, by="Jo Alder", findings=(), results=())
        jobs.arrive(act, job=number, by="Sam Reed")
        jobs.hand_over(act, job=number, to="Jo Alder")
