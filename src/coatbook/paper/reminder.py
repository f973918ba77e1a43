"""The frozen record of a reminder: all that its mail and its calendar file are made from."""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from coatbook.people.views import Person, Shop

Standing = Literal["due", "in grace", "missed"]


@dataclass(frozen=True, slots=True)
class ReminderItem:
    """One upkeep item of one coating that falls due.

    `uid` is its stable name in calendars, `surfaces` where the coating lies. The upkeep may be done from `opens`, is
    due on `due`, and still counts until `closes`, `grace_days` later. `consequence` says what a miss does, as a
    clause with a subject and verb: "the coating's term ends". `standing` is how it stands on the day of the message:
    "due" until the due day is over, "in grace" after it, "missed" once it no longer counts.
    """

    uid: str
    aircraft: str
    surfaces: str
    product: str
    item: str
    opens: dt.date
    due: dt.date
    closes: dt.date
    grace_days: int
    consequence: str
    standing: Standing = "due"


@dataclass(frozen=True, slots=True)
class ReminderRecord:
    """One message to one person. `date` is its instant, with a time zone; `aircraft` what its subject calls the
    aircraft; `message_id` stands with or without angle brackets; `items` holds at least one."""

    shop: Shop
    customer: Person
    to_address: str
    message_id: str
    date: dt.datetime
    aircraft: str
    items: tuple[ReminderItem, ...]

    def __post_init__(self) -> None:
        if self.date.tzinfo is None:
            raise ValueError("the instant of a reminder needs a time zone")
        if not self.items:
            raise ValueError("a reminder needs at least one item")

    @property
    def instant(self) -> dt.datetime:
        """`date` in UTC, to the second, as headers and calendars write it."""
        return self.date.astimezone(dt.UTC).replace(microsecond=0)
