"""Tables of upkeep done, notices decided and messages sent."""

import datetime as dt

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coatbook.store.tables import Issued, WrittenOnce, optional, refers, strict

OUTCOMES = ("sent", "refused", "later", "unsure")


class UpkeepDone(WrittenOnce, kw_only=True, repr=False):
    """Upkeep done on an airframe's coatings, by anyone."""

    __tablename__ = "upkeep_done"

    airframe: Mapped[int] = refers("airframe", index=True)
    item: Mapped[str]
    by_whom: Mapped[str]
    evidence: Mapped[str | None] = optional()


class Message(Issued, kw_only=True, repr=False):
    """A message as it leaves the shop: its bytes are made once and kept."""

    __tablename__ = "message"
    __table_args__ = strict(UniqueConstraint("message_id"))

    customer: Mapped[int] = refers("customer", index=True)
    to_address: Mapped[str]
    message_id: Mapped[str]
    sha256: Mapped[str]
    bytes: Mapped[bytes]


class Notice(Issued, kw_only=True, repr=False):
    """The decision to tell someone something once: unique by kind, subject, n and lead.

    The subject is a coating's item; `n` its cycle, `lead` how many days before closing (or after, negative).
    """

    __tablename__ = "notice"
    __table_args__ = strict(UniqueConstraint("kind", "subject", "n", "lead"))

    kind: Mapped[str]
    subject: Mapped[str]
    n: Mapped[int]
    lead: Mapped[int]
    message: Mapped[int] = refers("message", index=True)
    airframe: Mapped[int] = refers("airframe", index=True)
    surface: Mapped[str]
    item: Mapped[str]
    opens: Mapped[dt.date]
    due: Mapped[dt.date]
    closes: Mapped[dt.date]


class Attempt(Issued, kw_only=True, repr=False):
    """One try to send a message. Inserting it is the claim: two runs cannot both insert the same n."""

    __tablename__ = "attempt"
    __table_args__ = strict(UniqueConstraint("message", "n"))

    message: Mapped[int] = refers("message")
    n: Mapped[int]
    carrier: Mapped[str]
    began: Mapped[dt.datetime]


class Outcome(Issued, kw_only=True, repr=False):
    """How an attempt ended. A sent message with no outcome is unsure."""

    __tablename__ = "outcome"
    __table_args__ = strict(UniqueConstraint("attempt"))

    attempt: Mapped[int] = refers("attempt")
    verdict: Mapped[str]
    what: Mapped[str]
