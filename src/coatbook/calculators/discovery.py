"""Which plug-ins there are, and their calculators. Names are read without importing anything."""

from collections.abc import Iterable
from dataclasses import dataclass
from importlib import metadata
from typing import Any, Literal, Protocol

import pluggy

from coatbook.calculators import hooks
from coatbook.calculators.contract import Calculator
from coatbook.values import Misuse, Refusal
from coatbook.values.text import shown

FIRST_PARTY = "coatbook"

Standing = Literal["ready", "not enabled", "switched off", "kept aside"]


class Distribution(Protocol):
    """Whence an entry point comes."""

    @property
    def name(self) -> str: ...

    @property
    def version(self) -> str: ...


class Entry(Protocol):
    """What is used of `importlib.metadata.EntryPoint`; a test may bring its own."""

    @property
    def name(self) -> str: ...

    @property
    def dist(self) -> Distribution | None: ...

    def load(self) -> Any: ...


@dataclass(frozen=True, slots=True)
class Listed:
    """One plug-in of the catalog: where it comes from, how it stands and why, what calculators it brings."""

    name: str
    origin: str
    version: str
    first_party: bool
    standing: Standing
    reason: str = ""
    calculators: tuple[str, ...] = ()


@dataclass(slots=True)
class _Plugin:
    entry: Entry
    origin: str
    version: str
    standing: Standing
    reason: str = ""
    calculators: tuple[Calculator[Any], ...] | None = None  # None: not loaded

    @property
    def name(self) -> str:
        return self.entry.name

    @property
    def first_party(self) -> bool:
        return self.origin == FIRST_PARTY

    def keep_aside(self, reason: str) -> None:
        self.standing, self.reason, self.calculators = "kept aside", reason, ()

    def listed(self) -> Listed:
        names = tuple(calculator.name for calculator in self.calculators or ())
        return Listed(self.name, self.origin, self.version, self.first_party, self.standing, self.reason, names)


class Plugins:
    """The plug-ins of this installation.

    Those of coatbook itself are always on; those of others once enabled by name. One that cannot be loaded is
    kept aside with the reason, and the others go on.
    """

    def __init__(
        self,
        enabled: frozenset[str] = frozenset(),
        *,
        no_plugins: bool = False,
        entries: Iterable[Entry] | None = None,
    ) -> None:
        found: Iterable[Entry] = metadata.entry_points(group=hooks.GROUP) if entries is None else entries
        self._plugins: list[_Plugin] = []
        for plugin in sorted(map(_plugin, found), key=_rank):
            rival = next((one for one in self._plugins if one.name == plugin.name), None)
            if rival is not None:
                plugin.keep_aside(f"its name is taken by {rival.origin} {rival.version}")
            elif not plugin.first_party and no_plugins:
                plugin.standing = "switched off"
                plugin.reason = "plug-ins are switched off for this command"
            elif not plugin.first_party and plugin.name not in enabled:
                plugin.standing = "not enabled"
                plugin.reason = f"enable it with: coatbook plugin enable {plugin.name}"
            self._plugins.append(plugin)

    def names(self) -> tuple[str, ...]:
        """The names of the plug-ins in use, none of them imported."""
        return tuple(sorted(one.name for one in self._plugins if one.standing == "ready"))

    def find(self, name: str) -> Calculator[Any]:
        """The calculator of that name. Its own plug-in is imported; the others only if none bears the name.

        Raises:
            Refusal: its plug-in is not enabled, or is kept aside; the sentence says why.
            Misuse: no plug-in brings it; the sentence lists those there are.
        """
        bearer = next((one for one in self._plugins if one.name == name), None)
        candidates = [bearer] if bearer else self._plugins
        for plugin in candidates:
            for calculator in self._loaded(plugin):
                if calculator.name == name:
                    return calculator
        if bearer is not None and bearer.standing != "ready":
            raise Refusal(
                f"the plug-in {name} of {bearer.origin} {bearer.version} is {bearer.standing}: {bearer.reason}"
            )
        known = ", ".join(calculator.name for calculator in self.all())
        raise Misuse(f"no plug-in brings a calculator {shown(name)!r}: there are {known or 'none'}")

    def all(self) -> tuple[Calculator[Any], ...]:
        """Every calculator of the plug-ins in use, by name."""
        every = [calculator for plugin in self._plugins for calculator in self._loaded(plugin)]
        return tuple(sorted(every, key=lambda calculator: calculator.name))

    def catalog(self) -> tuple[Listed, ...]:
        """Every plug-in there is, in use or not; those in use are imported to see whether they load."""
        self.all()
        return tuple(plugin.listed() for plugin in self._plugins)

    def _loaded(self, plugin: _Plugin) -> tuple[Calculator[Any], ...]:
        if plugin.standing != "ready":
            return ()
        if plugin.calculators is None:
            try:
                plugin.calculators = _calculators(plugin.entry)
                self._refuse_borrowed_names(plugin)
            except (Exception, SystemExit) as error:  # a stranger's code: any error, and it is left out
                plugin.keep_aside(f"{type(error).__name__}: {_one_line(error)}")
        return plugin.calculators or ()

    def _refuse_borrowed_names(self, plugin: _Plugin) -> None:
        """A calculator may not bear the name of another plug-in, nor of a calculator loaded before."""
        others = [one for one in self._plugins if one is not plugin and one.standing == "ready"]
        taken = {one.name: one for one in others if one.name != plugin.name}
        taken |= {calculator.name: one for one in others for calculator in one.calculators or ()}
        for calculator in plugin.calculators or ():
            if (owner := taken.get(calculator.name)) is not None:
                whose = f"{owner.origin} {owner.version}"
                raise ValueError(f"its calculator {calculator.name} bears a name of {whose}")


def _rank(plugin: _Plugin) -> tuple[bool, str, str]:
    return not plugin.first_party, plugin.name, plugin.origin


def _plugin(entry: Entry) -> _Plugin:
    dist = entry.dist
    return _Plugin(entry, dist.name if dist else "unknown", dist.version if dist else "unknown", "ready")


def _calculators(entry: Entry) -> tuple[Calculator[Any], ...]:
    """What the plug-in registers. A manager of its own keeps its errors from the others."""
    manager = pluggy.PluginManager(hooks.GROUP)
    manager.add_hookspecs(hooks)
    manager.register(entry.load(), name=entry.name)
    manager.check_pending()
    answers = manager.hook.calculators()
    registered = tuple(calculator for answer in answers for calculator in answer)
    for calculator in registered:
        if not isinstance(calculator, Calculator):
            raise TypeError(f"its hook calculators() brought a {type(calculator).__name__}, not a Calculator")
    return registered


def _one_line(error: BaseException) -> str:
    text = " ".join(shown(str(error)).split())
    return text[:300] or "no reason given"
