"""What the safety gate found, and whether someone who may has passed it."""

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coatbook.jobs.tables import Authority


@dataclass(frozen=True, slots=True)
class Finding:
    """One reason to stop: which gate (film, balance), of which surface, why, and a hash of all it looked at.

    `steps` are the keys of the planned steps it stands before. An authority passes a finding only as it was seen:
    a reading or step changed since makes another finding.
    """

    gate: str
    of: str
    level: str
    reason: str
    seen: str
    steps: tuple[str, ...]


def authority_for(session: Session, job: int, finding: Finding) -> Authority | None:
    """The standing authority that passes a finding, if there is one."""
    return session.scalars(
        select(Authority).filter_by(job=job, gate=finding.gate, of=finding.of, seen=finding.seen, struck_on=None)
    ).first()
