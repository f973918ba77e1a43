# ruff: noqa: T201
"""How fast a large book is imported, in how much memory, and whether a large book is slower to use than a small one.

Run by hand: `.venv/bin/python tests/bench/import_bench.py --jobs 20000 --lines 1000000`. It invents a shop's years
from a seed, imports them file by file with the real command, and prints; it asserts nothing.
"""

import argparse
import csv
import datetime as dt
import os
import random
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

FIRST_DAY = dt.date(2016, 1, 4)
DAYS = 3_800
WORKERS, MATERIALS = 6, 12
JOBS_EACH = 10  # of an aircraft
SMALL = 100  # times fewer jobs and lines
ROUNDS = 25
PROGRAM = "import sys; from coatbook.cli import main; main()"

Rows = Iterator[tuple[object, ...]]


class Shop:
    """An invented shop's files; the same seed gives the same bytes."""

    def __init__(self, jobs: int, lines: int, seed: int) -> None:
        self.jobs, self.lines, self.aircraft = jobs, lines, jobs // JOBS_EACH
        self.customers = self.aircraft // 5 + 1
        self.random = random.Random(seed)
        self.opened = sorted(self.random.randrange(DAYS) for _ in range(jobs))

    def day(self, job: int, after: int = 0) -> dt.date:
        return FIRST_DAY + dt.timedelta(days=min(self.opened[job - 1] + after, DAYS))

    def files(self) -> Iterator[tuple[str, tuple[str, ...], Rows]]:
        """Table, headings and rows, in the order they are imported."""
        first = FIRST_DAY
        yield (
            "customers",
            ("code", "name", "address"),
            ((f"c{n}", f"Customer {n}", f"{n} Field Lane") for n in range(self.customers)),
        )
        yield "sites", ("code", "name", "address", "place"), iter([("mesa", "Hangar 7", "4100 Runway Road", "US-TX")])
        yield (
            "workers",
            ("on", "code", "name", "kind", "rate"),
            (
                (first, f"w{n}", f"Worker {n}", "owner" if n == 0 else "employee", f"{24 + n}.50")
                for n in range(WORKERS)
            ),
        )
        yield (
            "worker-rates",
            ("on", "code", "rate", "from_on"),
            (
                (first, f"w{n}", f"{24 + n + year}.00", dt.date(2016 + year, 6, 1))
                for n in range(WORKERS)
                for year in range(10)
            ),
        )
        yield "overhead-rates", ("on", "rate"), iter([(first, "18.50")])
        yield (
            "aircraft",
            ("on", "code", "maker", "model", "serial", "mark", "owner"),
            (
                (first, f"a{n}", "Cessna", "182T", f"182{n:05}", f"N{10_000 + n}", f"c{n % self.customers}")
                for n in range(self.aircraft)
            ),
        )
        yield (
            "surfaces",
            ("aircraft", "name", "area", "substrate", "paint"),
            (
                (f"a{n}", name, "84 ft2", "aluminum", "base/clear")
                for n in range(self.aircraft)
                for name in ("left wing", "right wing")
            ),
        )
        yield (
            "services",
            ("code", "name", "abrasive", "tax_kind", "price"),
            iter([("wash", "Wash", "no", "labor", "150.00")]),
        )
        yield "materials", ("code", "name", "unit"), ((f"m{n}", f"Product {n}", "fl oz") for n in range(MATERIALS))
        yield (
            "purchases",
            ("on", "code", "quantity", "cost", "supplier", "label"),
            (
                (
                    first + dt.timedelta(days=30 * month),
                    f"m{n}",
                    f"{self.lines // 50_000 + 10} gal",
                    "900.00",
                    "Hillside",
                    "L",
                )
                for month in range(DAYS // 30)
                for n in range(MATERIALS)
            ),
        )
        yield (
            "jobs",
            ("on", "number", "aircraft", "site", "asked_for"),
            (
                (self.day(job), job, f"a{self.random.randrange(self.aircraft)}", "mesa", "Wash and polish")
                for job in range(1, self.jobs + 1)
            ),
        )
        yield (
            "steps",
            ("on", "job", "service", "hours"),
            ((self.day(job), job, "wash", "3 h") for job in range(1, self.jobs + 1)),
        )
        for table, headings, share in (
            ("hours", ("on", "job", "worker", "hours", "step", "note"), 0.5),
            ("notes", ("on", "job", "note"), 0.25),
            ("expenses", ("on", "job", "amount", "what"), 0.1),
            ("travel", ("on", "job", "distance", "rate", "where"), 0.05),
            ("uses", ("on", "job", "material", "quantity"), 0.1),
        ):
            yield table, headings, self._diary(table, round(self.lines * share))

    def _diary(self, table: str, count: int) -> Rows:
        """Lines of jobs in the order of their days, as a diary has them."""
        for line in range(count):
            job = line * self.jobs // count + 1
            on = self.day(job, self.random.randrange(4))
            what = self.random.randrange(1_000)
            yield (
                on,
                job,
                *{
                    "hours": (f"w{what % WORKERS}", f"{1 + what % 7} h", 1, f"note {line}" if what < 300 else ""),
                    "notes": (f"Seam {what} looked at, line {line}.",),
                    "expenses": (f"{what}.50", f"hangar fee {line}"),
                    "travel": (f"{what % 90 + 1} mi", "0.67", f"trip {line}"),
                    "uses": (f"m{what % MATERIALS}", f"{what % 5 + 1} fl oz"),
                }[table],
            )


def coatbook(book: Path, *arguments: str, today: str = "2026-08-20") -> tuple[float, float, int]:
    """Run one command in a process of its own: seconds, seconds of the processor, and peak memory in KiB."""
    surroundings = os.environ | {"COATBOOK_BOOK": str(book), "COATBOOK_TODAY": today, "COATBOOK_ACTOR": "bench"}
    began = time.perf_counter()
    child = os.posix_spawn(
        sys.executable,
        [sys.executable, "-c", PROGRAM, *arguments],
        surroundings,
        file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)],
    )
    _, status, used = os.wait4(child, 0)
    if status:
        raise SystemExit(f"coatbook {' '.join(arguments)}: exit {os.waitstatus_to_exitcode(status)}")
    return time.perf_counter() - began, used.ru_utime + used.ru_stime, used.ru_maxrss


def make_book(folder: Path, shop: Shop) -> Path:
    """A book with all the files of a shop in it; how long each took is printed."""
    folder.mkdir()
    book = folder / "book.db"
    coatbook(book, "init", "--name", "Shop", "--address", "Road", "--zone", "America/Chicago", "--on", str(FIRST_DAY))
    for table, headings, rows in shop.files():
        path, count = folder / f"{table}.csv", 0
        with path.open("w", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(headings)
            for count, row in enumerate(rows, start=1):  # noqa: B007
                writer.writerow(row)
        seconds, busy, memory = coatbook(book, "import", table, str(path))
        print(
            f"{table:16}{count:>10,} rows {seconds:>8.1f} s {count / seconds:>7,.0f} rows/s, "
            f"busy {busy:>8.1f} s {count / busy:>7,.0f} rows/s {memory / 1024:>6.0f} MB",
            flush=True,
        )
    print(f"{'the book':16}{book.stat().st_size / 1e6:>10,.0f} MB")
    return book


def compare(small: Path, large: Path, jobs: int) -> None:
    """One command on both books in turn, in this very process: what it takes in the large one, by the small one."""
    from coatbook.cli import run

    os.environ |= {"COATBOOK_TODAY": "2026-08-20", "COATBOOK_ACTOR": "bench"}
    for name, arguments in (
        ("job show", lambda n, last: ("job", "show", str(last))),
        ("log note", lambda n, last: ("log", "note", str(last), f"looked at, round {n}")),
        ("log hours", lambda n, last: ("log", "hours", str(last), "w1", f"{n + 1} min", "--step", "1")),
        ("log use", lambda n, last: ("log", "use", str(last), "m1", f"{n + 1} fl oz")),
    ):
        took: dict[Path, list[float]] = {small: [], large: []}
        for n in range(ROUNDS):
            for book, last in ((small, jobs // SMALL), (large, jobs)):
                began = time.perf_counter()
                with Quiet():
                    assert run(["--book", str(book), *arguments(n, last)]) == 0
                took[book].append(time.perf_counter() - began)
        ratios = [big / little for little, big in zip(took[small], took[large], strict=True)]
        times = [statistics.median(took[book]) * 1000 for book in (small, large)]
        print(f"{name:16}{times[0]:>7.1f} ms small {times[1]:>7.1f} ms large, ratio {statistics.median(ratios):.2f}")


class Quiet:
    """Nothing printed meanwhile."""

    def __enter__(self) -> None:
        self._kept = sys.stdout, sys.stderr
        self._nowhere = Path(os.devnull).open("w")
        sys.stdout = sys.stderr = self._nowhere

    def __exit__(self, *_: object) -> None:
        sys.stdout, sys.stderr = self._kept
        self._nowhere.close()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--jobs", type=int, default=2_000)
    parser.add_argument("--lines", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--folder", type=Path, help="a new folder to leave the books and files in")
    given = parser.parse_args()
    folder = given.folder or Path(tempfile.mkdtemp(prefix="import-bench-"))
    folder.mkdir(exist_ok=True)
    small = make_book(folder / "small", Shop(given.jobs // SMALL, given.lines // SMALL, given.seed))
    large = make_book(folder / "large", Shop(given.jobs, given.lines, given.seed))
    compare(small, large, given.jobs)
    seconds, busy, memory = coatbook(large, "book", "check")
    print(f"{'book check':16}{seconds:>7.1f} s, busy {busy:.1f} s, {memory / 1024:.0f} MB")


if __name__ == "__main__":
    main()
