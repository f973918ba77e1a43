"""Entry points of an invented distribution, so that discovery and host are tried without installing anything."""

from collections.abc import Callable
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any

import pytest

from coatbook.calculators import Calculator, hookimpl
from coatbook.calculators.discovery import Plugins


@dataclass(frozen=True)
class Origin:
    name: str
    version: str = "1.0"


@dataclass
class Entry:
    """An entry point; `loaded` counts how often it was imported."""

    name: str
    plugin: Any
    dist: Origin = Origin("acme-finish")
    loaded: list[str] = field(default_factory=list)

    def load(self) -> Any:
        self.loaded.append(self.name)
        if isinstance(self.plugin, BaseException):
            raise self.plugin
        return self.plugin


def registering(*calculators: Any) -> Any:
    """A plug-in object that brings these calculators."""

    @hookimpl
    def bring() -> tuple[Any, ...]:
        return calculators

    return SimpleNamespace(calculators=bring)


@pytest.fixture
def entry() -> type[Entry]:
    return Entry


@pytest.fixture
def origin() -> type[Origin]:
    return Origin


@pytest.fixture
def brings() -> Callable[..., Any]:
    return registering


@pytest.fixture
def plugins_of() -> Callable[..., Plugins]:
    """Enabled plug-ins, one for each calculator given."""

    def make(*calculators: Calculator[Any]) -> Plugins:
        entries = [Entry(calculator.name, registering(calculator)) for calculator in calculators]
        return Plugins(frozenset(entry.name for entry in entries), entries=entries)

    return make
