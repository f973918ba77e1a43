"""All tables of the book in one place: importing this makes every room's tables known."""

from coatbook.aircraft import tables as aircraft
from coatbook.billing import tables as billing
from coatbook.jobs import tables as jobs
from coatbook.people import tables as people
from coatbook.stock import tables as stock
from coatbook.store.tables import Base
from coatbook.upkeep import tables as upkeep

ROOMS = (people, aircraft, stock, jobs, billing, upkeep)
metadata = Base.metadata
