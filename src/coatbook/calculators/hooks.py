"""The hooks of the entry-point group `coatbook`: they register objects, which the host calls later."""

from typing import Any

import pluggy

from coatbook.calculators.contract import Calculator

GROUP = "coatbook"

hookspec = pluggy.HookspecMarker(GROUP)
hookimpl = pluggy.HookimplMarker(GROUP)


@hookspec
def calculators() -> tuple[Calculator[Any], ...]:
    """The calculators of this plug-in."""
    raise NotImplementedError
