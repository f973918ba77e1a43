"""The plug-in host as the desk uses it, and which of other people's plug-ins this user has enabled."""

from pathlib import Path

from coatbook.calculators.discovery import Plugins
from coatbook.calculators.host import Host
from coatbook.store.files import write_file
from coatbook.values import Refusal
from coatbook.values.text import shown


def host_for(no_plugins: bool) -> Host:
    """A host on the calculators in use; with `no_plugins`, on coatbook's own only."""
    return Host(Plugins(enabled(), no_plugins=no_plugins))


def enabled() -> frozenset[str]:
    """The names of other people's plug-ins that this user has enabled: a line each in a file of their settings."""
    try:
        return frozenset(_place().read_text("utf-8").split())
    except FileNotFoundError:
        return frozenset()
    except (OSError, UnicodeDecodeError) as problem:
        raise Refusal(f"the list of enabled plug-ins cannot be read: {problem}; mend or remove it") from None


def enable(name: str, on: bool) -> str:
    """Enable or disable a plug-in by its name; what was done, as a sentence."""
    known = {one.name: one for one in Plugins(no_plugins=True).catalog()}
    if name not in known:
        raise Refusal(f"there is no plug-in {shown(name)!r}: `coatbook plugin list` shows them")
    if known[name].first_party:
        raise Refusal(f"{name} came with coatbook and is always on: nothing to do")
    names = enabled() | {name} if on else enabled() - {name}
    write_file(_place(), "".join(f"{one}\n" for one in sorted(names)).encode(), replace=True)
    origin = f"{known[name].origin} {known[name].version}"
    return f"The plug-in {name} of {origin} is {'enabled: it runs with your rights' if on else 'disabled'}."


def _place() -> Path:
    import platformdirs

    return Path(platformdirs.user_config_dir("coatbook", appauthor=False)) / "enabled-plugins.txt"
