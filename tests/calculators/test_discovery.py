"""Plug-ins are found by name, imported when asked for, and kept aside with a reason when they cannot be used."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import pytest

from coatbook.calculators import Calculator, Result, Sheet, hookimpl
from coatbook.calculators.discovery import Plugins
from coatbook.values import Misuse, Refusal


@dataclass(frozen=True, slots=True)
class Inputs:
    size: int = 1


def nothing(_: Sheet) -> tuple[Inputs, ...]:
    return ()


def named(name: str) -> Calculator[Any]:
    return Calculator(name, "1", "a calculator", (), Inputs, nothing, lambda _: Result())


@pytest.fixture
def enabled(entry: Any, brings: Callable[..., Any]) -> Callable[..., Plugins]:
    """Plug-ins all enabled: one for each pair of a name and what it is."""

    def make(**plugins: Any) -> Plugins:
        return Plugins(frozenset(plugins), entries=[entry(name, plugin) for name, plugin in plugins.items()])

    return make


def test_coatbook_s_own_calculators_are_there_and_on() -> None:
    own = [listed for listed in Plugins(no_plugins=True).catalog() if listed.first_party]
    assert [(one.name, one.standing, one.calculators) for one in own] == [
        ("coverage", "ready", ("coverage",)),
        ("thickness", "ready", ("thickness",)),
        ("warranty", "ready", ("warranty",)),
    ]


def test_names_are_listed_without_importing() -> None:
    program = """
import sys
from coatbook.calculators.discovery import Plugins
print(Plugins(no_plugins=True).names(), *(name for name in sys.modules if name.startswith("coatbook_plugins")))
"""
    ran = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert ran.stdout == "('coverage', 'thickness', 'warranty')\n"


def test_finding_one_imports_that_one_only(entry: Any, brings: Callable[..., Any]) -> None:
    wash, wax = entry("wash", brings(named("wash"))), entry("wax", brings(named("wax")))
    plugins = Plugins(frozenset(("wash", "wax")), entries=[wash, wax])
    assert plugins.find("wax").name == "wax"
    assert plugins.find("wax").name == "wax"
    assert (wash.loaded, wax.loaded) == ([], ["wax"])


def test_a_second_calculator_of_a_plug_in_is_found_by_importing_the_rest(
    enabled: Callable[..., Plugins], brings: Callable[..., Any]
) -> None:
    plugins = enabled(leather=brings(named("leather"), named("leather-color")), wash=brings(named("wash")))
    assert plugins.find("leather-color").name == "leather-color"
    assert [calculator.name for calculator in plugins.all()] == ["leather", "leather-color", "wash"]


def test_an_unknown_name_lists_those_there_are(enabled: Callable[..., Plugins], brings: Callable[..., Any]) -> None:
    with pytest.raises(Misuse, match=r"no plug-in brings a calculator 'wahs': there are wash"):
        enabled(wash=brings(named("wash"))).find("wahs")


def test_a_stranger_s_plug_in_must_be_enabled(entry: Any, brings: Callable[..., Any]) -> None:
    wash = entry("wash", brings(named("wash")))
    plugins = Plugins(entries=[wash])
    with pytest.raises(Refusal, match=r"wash of acme-finish 1.0 is not enabled: enable it with"):
        plugins.find("wash")
    assert plugins.names() == ()
    (listed,) = plugins.catalog()
    assert (listed.origin, listed.version, listed.first_party, listed.standing) == (
        "acme-finish", "1.0", False, "not enabled",
    )  # fmt: skip
    assert wash.loaded == []


def test_no_plugins_leaves_only_coatbook_s_own(entry: Any, origin: Any, brings: Callable[..., Any]) -> None:
    mine = entry("wash", brings(named("wash")), origin("coatbook", "0.1.0"))
    theirs = entry("wax", brings(named("wax")))
    plugins = Plugins(frozenset(("wax",)), no_plugins=True, entries=[theirs, mine])
    assert plugins.names() == ("wash",)
    with pytest.raises(Refusal, match="switched off"):
        plugins.find("wax")


def misspelled() -> Any:
    @hookimpl
    def calculator() -> tuple[Any, ...]:
        return ()

    return SimpleNamespace(calculator=calculator)


def wrong_argument() -> Any:
    @hookimpl
    def calculators(sheet: Any) -> tuple[Any, ...]:
        return ()

    return SimpleNamespace(calculators=calculators)


def raising(error: BaseException) -> Any:
    @hookimpl
    def calculators() -> tuple[Any, ...]:
        raise error

    return SimpleNamespace(calculators=calculators)


def bringing(what: Any) -> Any:
    @hookimpl
    def calculators() -> Any:
        return what

    return SimpleNamespace(calculators=calculators)


@pytest.mark.parametrize(
    ("plugin", "reason"),
    [
        (ImportError("no module named paint"), "ImportError: no module named paint"),
        (SyntaxError("invalid\nsyntax"), "SyntaxError: invalid syntax"),
        (SystemExit(3), "SystemExit: 3"),
        (misspelled(), "unknown hook 'calculator'"),
        (wrong_argument(), "PluginValidationError"),
        (raising(ValueError("no table")), "ValueError: no table"),
        (raising(SystemExit(1)), "SystemExit: 1"),
        (bringing(("wash",)), "brought a str, not a Calculator"),
        (bringing(5), "TypeError"),
    ],
)
def test_a_plug_in_that_cannot_be_loaded_is_kept_aside_with_the_reason(
    enabled: Callable[..., Plugins], brings: Callable[..., Any], plugin: Any, reason: str
) -> None:
    plugins = enabled(broken=plugin, wash=brings(named("wash")))
    assert plugins.find("wash").name == "wash"
    broken, wash = plugins.catalog()
    assert (broken.standing, wash.standing) == ("kept aside", "ready")
    assert reason in broken.reason
    assert "\n" not in broken.reason
    with pytest.raises(Refusal, match=r"the plug-in broken of acme-finish 1.0 is kept aside"):
        plugins.find("broken")


def test_a_name_of_coatbook_s_own_cannot_be_taken(entry: Any, origin: Any, brings: Callable[..., Any]) -> None:
    mine = entry("coverage", brings(named("coverage")), origin("coatbook", "0.1.0"))
    theirs = entry("coverage", brings(named("coverage")), origin("aaa", "9"))
    plugins = Plugins(frozenset(("coverage",)), entries=[theirs, mine])
    assert plugins.find("coverage").name == "coverage"
    assert (mine.loaded, theirs.loaded) == (["coverage"], [])
    assert [one.reason for one in plugins.catalog()] == ["", "its name is taken by coatbook 0.1.0"]


def test_a_calculator_cannot_bear_another_plug_in_s_name(
    enabled: Callable[..., Plugins], brings: Callable[..., Any]
) -> None:
    plugins = enabled(aardvark=brings(named("wash")), wash=brings(named("wash")))
    assert plugins.find("wash") is plugins.all()[0]
    aside, ready = plugins.catalog()
    assert (aside.name, aside.standing, ready.standing) == ("aardvark", "kept aside", "ready")
    assert "bears a name of" in aside.reason


def test_a_calculator_must_read_what_a_sheet_has() -> None:
    with pytest.raises(ValueError, match="wash reads stpes: a sheet has steps"):
        Calculator("wash", "1", "", ("stpes",), Inputs, nothing, lambda _: Result())
    with pytest.raises(ValueError, match="inputs are not a dataclass"):
        Calculator("wash", "1", "", (), str, lambda _: (), lambda _: Result())
