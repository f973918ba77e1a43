"""What the hazards of materials, and abrasion, ask of whoever works: the usual cautions, no more.

Sources: 29 CFR 1910.1026 (chromium VI: exposure limits and protection; by OSHA's interpretation of 2018-03-13 removal
of paint from aircraft is held to them, the allowance for painting aircraft does not cover it); 29 CFR 1910.134(d)(1)
(respirators are chosen by the hazard, within a program). That primer is not sanded dry, that two-part finish is
sprayed with nobody else near, and what keeps acid and alkali off is common practice, no source.
"""

from collections.abc import Collection

CHROMATE_PRIMER = (
    "Primer may hold chromate: where a step may reach it, no dry sanding; keep it wet and gather what comes off "
    "(29 CFR 1910.1026)."
)
OF_HAZARD = {
    "isocyanates": "Isocyanates: who sprays or mixes this two-part finish wears the respirator its safety data sheet "
    "names, within a program under 29 CFR 1910.134; nobody else stays near.",
    "chromates": "Chromates: no dust and no mist of this product in anyone's breath; it is sanded wet, never dry "
    "(29 CFR 1910.1026).",
    "solvents": "Solvents: air the hangar, no flame and no spark, gloves on, and none of it on acrylic windows.",
    "strong acid": "Strong acid: goggles, gloves and water at hand; none of it on magnesium, on high-strength steel or "
    "into seams.",
    "strong alkali": "Strong alkali: goggles, gloves and water at hand; none of it on bare aluminum or into seams.",
}
SHEETS_FIRST = "The makers' safety data sheets take precedence over these cautions."


def hazard_cautions(hazards: Collection[str], abrasive: bool) -> tuple[str, ...]:
    """A sentence for each hazard of a job's materials, and for chromate in the primer if a step is abrasive.

    `hazards` are of `stock.tables.HAZARDS`; the order of the answer is always the same.
    """
    told = [CHROMATE_PRIMER] if abrasive else []
    told += [sentence for hazard, sentence in OF_HAZARD.items() if hazard in hazards]
    return (*told, SHEETS_FIRST) if told else ()
