"""Calculators put in place of the installed ones, to see what the desk does when one misbehaves."""

import ctypes
import os
import re
import sys
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from importlib import metadata
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from coatbook.calculators import Calculator, Figure, Result, Sheet, hookimpl
from coatbook.calculators.discovery import Plugins
from coatbook.calculators.host import Host, Limits
from coatbook.desk import hosting


@dataclass(frozen=True, slots=True)
class Inputs:
    """A surface, or a coating by its key."""

    of: str


@dataclass(frozen=True)
class Origin:
    name: str
    version: str = "1.0"


@dataclass(frozen=True)
class Entry:
    """An entry point of an invented distribution, or one that passes for coatbook's own."""

    name: str
    plugin: Any
    dist: Origin

    def load(self) -> Any:
        return self.plugin


def raises(_: Inputs) -> Result:
    raise ValueError("the paint is wet")


def loops_in_c(_: Inputs) -> Result:
    re.fullmatch(r"(a+)+b", "a" * 60)
    return Result()


def exits(_: Inputs) -> Result:
    sys.exit(3)


def vanishes(_: Inputs) -> Result:
    os._exit(0)


def crashes(_: Inputs) -> Result:
    ctypes.string_at(0)
    return Result()


def answers_nan(_: Inputs) -> Result:
    return Result(figures=(Figure("film", Decimal("NaN"), "µm"),))


BROKEN: dict[str, tuple[Callable[[Inputs], Result], str]] = {
    "raises": (raises, "raised ValueError: the paint is wet"),
    "loops in C": (loops_in_c, "ran longer than 3 s and was stopped"),
    "exits": (exits, "asked the program to exit (3)"),
    "vanishes": (vanishes, "ended its process (exit 0)"),
    "crashes": (crashes, "crashed its process (SIGSEGV)"),
    "NaN": (answers_nan, "not a finite number"),
}


def surfaces(sheet: Sheet) -> tuple[Inputs, ...]:
    return tuple(Inputs(name) for name in dict.fromkeys(step.surface for step in sheet.steps if step.surface))


def coatings(sheet: Sheet) -> tuple[Inputs, ...]:
    return tuple(Inputs(one.key) for one in sheet.coatings)


def calculator(
    name: str,
    compute: Callable[[Inputs], Result],
    gather: Callable[[Sheet], tuple[Inputs, ...]] = surfaces,
    reads: tuple[str, ...] = ("steps", "coatings"),
) -> Calculator[Inputs]:
    return Calculator(name, "7", f"{name}, for a test", reads, Inputs, gather, compute)


def put(monkeypatch: pytest.MonkeyPatch, *calculators: Calculator[Any]) -> None:
    """Let these take part beside coatbook's own, in place of one of the same name; three seconds to answer."""
    installed = {entry.name: entry for entry in metadata.entry_points(group="coatbook")}
    given = {one.name: _entry(one, one.name in installed) for one in calculators}

    def plugins(_enabled: frozenset[str], *, no_plugins: bool) -> Plugins:
        entries = [entry for name, entry in installed.items() if name not in given]
        return Plugins(frozenset(given), no_plugins=no_plugins, entries=[*entries, *given.values()])

    monkeypatch.setattr(hosting, "Plugins", plugins)
    monkeypatch.setattr(hosting, "Host", partial(Host, limits=Limits(seconds=3.0)))


def _entry(one: Calculator[Any], in_place: bool) -> Entry:
    @hookimpl
    def calculators() -> tuple[Calculator[Any], ...]:
        return (one,)

    return Entry(one.name, SimpleNamespace(calculators=calculators), Origin("coatbook" if in_place else "acme-finish"))


def children() -> set[str]:
    """The process numbers of this process's children, zombies included."""
    found = set()
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            after_name = stat.read_text().rpartition(")")[2].split()
        except OSError:  # gone meanwhile
            continue
        if after_name[1] == str(os.getpid()):
            found.add(stat.parent.name)
    return found
