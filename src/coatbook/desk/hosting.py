"""The plug-in host as the desk uses it."""

from coatbook.calculators.discovery import Plugins
from coatbook.calculators.host import Host


def host_for(no_plugins: bool) -> Host:
    """A host on the calculators in use; with `no_plugins`, on coatbook's own only."""
    return Host(Plugins(no_plugins=no_plugins))
