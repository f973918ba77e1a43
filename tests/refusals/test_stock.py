"""What the book refuses to write of materials and lots: each rule with its sentence, and the book as it was."""

import shlex
from collections.abc import Callable
from pathlib import Path

import pytest

Command = Callable[..., str]

BUY = "material buy sealant '1 qt' 60.00 --supplier 'Hillside Supply'"
THEIRS = "material buy sealant '1 qt' --supplied-by"
OLD = f"{BUY} --lot OLD --expires 2026-06-30 --on 2026-03-02"
USE = "log use 1 sealant"
WAX = "material add wax --name 'Paste wax' --unit g"

# rule: what was typed before, what is typed now, its exit code, and words of its sentence
RULES: dict[str, tuple[tuple[str, ...], str, int, str]] = {
    # what is said of a material
    "a hazard is a known one": (
        (),
        "material edit sealant --hazard poison",
        2,
        "the hazard 'poison' is not known: use one of isocyanates, chromates, solvents, strong acid, strong alkali",
    ),
    "a material has hazards or none": (
        (),
        "material edit sealant --hazard none --hazard solvents",
        2,
        "a material has hazards or none: give --hazard none alone, or leave it out",
    ),
    "a safety data sheet is somewhere": ((), "material edit sealant --sds ''", 2, "safety data sheet is empty"),
    "burn evidence says something": ((), "material edit sealant --burn-evidence ' '", 2, "evidence of burn tests is"),
    "an edit of a material changes something": (
        (),
        "material edit sealant",
        2,
        "nothing is changed: give what changes, such as --sds or --hazard",
    ),
    "what is low is told in the material's own kind of unit": (
        (),
        "material edit sealant --fact low='8 g'",
        2,
        "the fact low 8 g has the wrong unit: it is a volume",
    ),
    "a fact must be there to be dropped": (
        (),
        "material edit sealant --drop-fact loss",
        2,
        "Paint sealant has no fact 'loss' to drop: its facts are told by `coatbook material show sealant`",
    ),
    "a fact is not given and dropped at once": (
        (),
        "material edit sealant --fact spreading='400 ft2/gal' --drop-fact spreading",
        2,
        "the fact spreading is given and dropped at once: do one of the two",
    ),
    "a material must be there to be edited": ((), "material edit glue --name Glue", 1, "there is no material 'glue'"),
    # purchases
    "a purchase has a cost": (
        (),
        "material buy sealant '1 qt' --supplier 'Hillside Supply' --lot L",
        2,
        "a purchase has a cost and a supplier: give COST and --supplier, or --supplied-by CUSTOMER",
    ),
    "a purchase has a supplier": ((), "material buy sealant '1 qt' 60.00 --lot L", 2, "has a cost and a supplier"),
    "a cost is no gain": (
        (),
        "material buy sealant '1 qt' --supplier S --lot L -- -60.00",
        1,
        "the cost -60.00 must not be below zero",
    ),
    "what is supplied costs nothing": (
        (),
        "material buy sealant '1 qt' 60.00 --supplied-by alder --lot L",
        2,
        (
            "what Jo Alder supplies costs the shop nothing: leave out COST, --estimated and --tax-paid, or write it "
            "as a purchase with --supplier"
        ),
    ),
    "what is supplied has one supplier": (
        (),
        f"{THEIRS} alder --supplier 'Hillside Supply' --lot L",
        2,
        "it is Jo Alder who supplies it: give --supplier or --supplied-by, not both",
    ),
    "a customer who supplies must be there": ((), f"{THEIRS} nobody --lot L", 1, "there is no customer 'nobody'"),
    "a label has one owner": (
        (),
        f"{THEIRS} alder --lot b-204",
        1,
        (
            "lot B-204 of Paint sealant is the shop's own (purchase 1): mark this container apart and write the mark "
            "with its number, such as --lot 'b-204 2'"
        ),
    ),
    "a label has one last day": (
        (OLD,),
        f"{BUY} --lot OLD --expires 2026-09-30",
        1,
        "lot OLD of Paint sealant expires on 2026-06-30 by purchase 2, here on 2026-09-30: read both labels again",
    ),
    # uses
    "a use is not beyond stock": (
        (),
        f"{USE} '33 fl oz'",
        1,
        (
            "32 fl oz of Paint sealant were on hand on 2026-08-20, 33 fl oz are asked for: write what was bought with "
            "`coatbook material buy sealant QUANTITY COST --estimated`, or what is there with `coatbook material count "
            "sealant QUANTITY --why …`"
        ),
    ),
    "a use is not beyond its lot": (
        (f"{BUY} --lot NEW",),
        f"{USE} '33 fl oz' --lot NEW",
        1,
        "32 fl oz of Paint sealant were on hand in lot NEW on 2026-08-20",
    ),
    "a use does not draw on what is too old": (
        (OLD, f"{USE} '32 fl oz'"),
        f"{USE} '1 fl oz'",
        1,
        (
            "and lot OLD expired on 2026-06-30: write it off with `coatbook material expire sealant:OLD`, or name it "
            'with --lot "OLD" if its maker lets it be used'
        ),
    ),
    "a use does not draw on what others supplied": (
        (f"{THEIRS} alder --lot A-7", f"{USE} '32 fl oz'"),
        f"{USE} '1 fl oz'",
        1,
        "Jo Alder's own is drawn only if --lot names it",
    ),
    "what a customer supplied goes on no other's job": (
        (f"{THEIRS} birch --lot C-1",),
        f"{USE} '1 fl oz' --lot C-1",
        1,
        "lot C-1 of Paint sealant is Birch Flying Club's own, who is no party to this job: take another lot",
    ),
    "a use names a lot that is there": (
        (),
        f"{USE} '1 fl oz' --lot Z-9",
        1,
        "Paint sealant had no lot 'Z-9' on 2026-08-20: `coatbook material show sealant` lists its lots",
    ),
    # prices
    "a lot must be there": (
        (),
        "material reprice Z-9 50.00",
        1,
        "there is no lot 'Z-9' on 2026-08-20: `coatbook material show CODE` lists a material's lots",
    ),
    "a label of two materials is told apart": (
        (WAX, "material buy wax '200 g' 12.00 --supplier S --lot B-204"),
        "material reprice B-204 50.00",
        1,
        "2 materials have a lot 'B-204': name the one you mean, sealant:B-204 or wax:B-204",
    ),
    "a price is one purchase's": (
        (f"{BUY} --lot B-204",),
        "material reprice B-204 50.00",
        1,
        "lot B-204 of Paint sealant was bought 2 times, each at its own price: name purchase:1 or purchase:2 in its",
    ),
    "a price is corrected by another": (
        (),
        "material reprice B-204 48.00",
        1,
        "lot B-204 of Paint sealant has cost 48.00 all along: nothing to correct",
    ),
    "a price is not below zero": ((), "material reprice B-204 -- -1.00", 1, "the price -1.00 must not be below zero"),
    "what is supplied has no price": (
        (f"{THEIRS} alder --lot A-7",),
        "material reprice A-7 50.00",
        1,
        "lot A-7 of Paint sealant is Jo Alder's own and has no price: nothing to write",
    ),
    "a price is not corrected before the purchase": (
        (),
        "material reprice B-204 50.00 --on 2026-03-01",
        1,
        "a change on 2026-03-01 would come before lot B-204 was bought on 2026-03-02: give a later --on",
    ),
    "a price is not corrected in a closed month": (
        ("book close 2026-03 --yes",),
        "material reprice B-204 50.00 --on 2026-03-31",
        1,
        "the line is dated 2026-03-31, but 2026-03 is closed",
    ),
    # counts
    "a count says why": ((), "material count sealant '30 fl oz' --why ''", 2, "the reason is empty"),
    "a count is in the material's kind of unit": (
        (),
        "material count sealant '30 g' --why quarter",
        2,
        "Paint sealant is kept in fl oz: 30 g is a mass",
    ),
    "a count finds no more than was bought": (
        (),
        "material count sealant '33 fl oz' --why quarter",
        1,
        (
            "1 fl oz of Paint sealant more than was ever bought would be on the shelf: write the purchase first with "
            "`coatbook material buy sealant QUANTITY COST --estimated`"
        ),
    ),
    "what was never bought is not counted": (
        (WAX,),
        "material count wax '5 g' --why quarter",
        1,
        "no Paste wax was bought by 2026-08-20, so there is none to count",
    ),
    "a count names a lot that is there": (
        (),
        "material count sealant '5 fl oz' --lot Z-9 --why quarter",
        1,
        "no lot 'Z-9' of Paint sealant was bought by 2026-08-20",
    ),
    "what was used later was there": (
        (f"{USE} '30 fl oz'",),
        "material count sealant '5 fl oz' --why quarter --on 2026-08-01",
        1,
        (
            "25 fl oz of Paint sealant that would be missing on 2026-08-01 stand as used after it: count what is there "
            "today instead"
        ),
    ),
    # what is too old, and what goes back
    "a lot may be used until its last day": (
        (f"{BUY} --lot NEW --expires 2026-09-30",),
        "material expire NEW",
        1,
        "lot NEW of Paint sealant may be used until 2026-09-30: say what makes it unfit with --why",
    ),
    "a lot without a last day is unfit for a reason": ((), "material expire B-204", 1, "has no last day on its label"),
    "nothing is written off twice": (
        ("material expire B-204 --why froze",),
        "material expire B-204 --why frozen",
        1,
        "nothing is left of lot B-204 of Paint sealant: nothing to write off",
    ),
    "what was found later is not written off before": (
        (f"{USE} '8 fl oz' --on 2026-07-01", "material count sealant '26 fl oz' --why quarter --on 2026-08-01"),
        "material expire B-204 --why froze --on 2026-07-15",
        1,
        "a count found 2 fl oz in lot B-204 of Paint sealant after 2026-07-15: give a later --on",
    ),
    "no more goes back than is left": (
        (f"{USE} '8 fl oz'",),
        "material return B-204 '1 qt' 40.00",
        1,
        (
            "24 fl oz are left of lot B-204 of Paint sealant, 1 qt cannot go back: count it with `coatbook material "
            "count sealant QUANTITY --lot B-204 --why …`"
        ),
    ),
    "a return is of something": ((), "material return B-204 '0 qt' 0", 1, "the quantity 0 qt must be more than zero"),
    "nobody credits what was supplied": (
        (f"{THEIRS} alder --lot A-7",),
        "material return A-7 '1 pt' 5.00",
        1,
        "lot A-7 of Paint sealant is Jo Alder's own and cost nothing: nobody credits it, write 0.00",
    ),
    # striking
    "a purchase that was changed stands": (
        ("material count sealant '30 fl oz' --why quarter",),
        "strike purchase:1 --why wrong",
        1,
        "lot 1 cannot be struck: lot_change 1 stands on it; strike that first",
    ),
    "a change on which a use stands is not struck": (
        ("material reprice B-204 60.00", f"{USE} '8 fl oz'"),
        "strike lot_change:1 --why wrong",
        1,
        (
            "lot_change 1 cannot be struck: line 1 came after it in lot B-204; strike that first, or set right what is "
            "wrong with `coatbook material reprice purchase:1 PRICE`"
        ),
    ),
    # the same again
    "the same return is written once": (
        ("material return B-204 '1 pt' 20.00",),
        "material return B-204 '1 pt' 20.00",
        1,
        "with the same values on 2026-08-20 stands already",
    ),
    # tracing
    "only what is there is traced": ((), "material trace sealant:Z-9", 1, "there is no lot 'sealant:Z-9'"),
}


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_is_refused_by_one_sentence(rule: str, furnished: Path, coatbook: Command, refused: Command) -> None:
    before, typed, code, says = RULES[rule]
    for line in before:
        coatbook(*shlex.split(line))
    sentence = refused(*shlex.split(typed), code=code)
    assert sentence.startswith("coatbook: ")
    assert says in sentence
    assert "\n" not in sentence
