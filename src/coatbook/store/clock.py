"""The book's two clocks: the business day in the shop's zone, and the real instant of an act."""

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from coatbook.values import Misuse


def zone_named(name: str) -> ZoneInfo:
    """The IANA time zone of that name. Raises Misuse for an unknown one."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise Misuse(f"{name!r} is not a time zone: write one such as America/Chicago or Europe/Berlin") from None


@dataclass(frozen=True, slots=True)
class Clock:
    """Tells today. `pretended` stands in for it in demos and tests; instants are always the real clock's."""

    pretended: dt.date | None = None

    def today(self, zone: str) -> dt.date:
        return self.pretended or dt.datetime.now(zone_named(zone)).date()

    def instant(self) -> dt.datetime:
        return dt.datetime.now(dt.UTC)
