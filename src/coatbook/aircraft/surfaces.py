"""What a surface cannot be made of and painted with. All of it is common practice, no source.

Only what the trade is sure of is refused: dope on metal or a bare fabric is odd, but has been seen.
"""

from collections.abc import Mapping
from typing import Any

from coatbook.values import Refusal


def refuse_impossible(surface: Mapping[str, Any]) -> None:
    """Refuse a surface (its columns name, substrate, paint, primer, painted, mesh) that no aircraft has."""
    name, substrate, paint = surface["name"], surface["substrate"], surface["paint"]
    if substrate == "acrylic" and paint != "bare":
        raise Refusal(f"{name} cannot be {paint} on acrylic: windows are never painted, write --paint bare")
    if paint == "gelcoat" and substrate != "composite":
        raise Refusal(
            f"{name} cannot be gelcoat on {substrate}: gelcoat is made in the mold of a composite part, so write the "
            "paint it has or --substrate composite"
        )
    if surface["mesh"] and substrate != "composite":
        raise Refusal(
            f"{name} cannot have mesh under the paint: mesh lies in composite skins, and this one is {substrate}; "
            "write --no-mesh or --substrate composite"
        )
    if paint == "bare" and surface["primer"]:
        raise Refusal(
            f"{name} cannot be bare and have primer: primer is paint, so leave --primer away or name the paint"
        )
    if paint == "bare" and surface["painted"]:
        raise Refusal(
            f"{name} cannot be bare and painted in {surface['painted']}: leave --painted away or name the paint"
        )
