"""The coverage calculator: product needed, packs to buy and their cost, for one product of a job."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

from coatbook.calculators import Calculator, Field, Figure, Need, NotEnough, Product, Result, Sheet, Step
from coatbook.values import Money, Quantity
from coatbook_plugins.coverage.formulas import packs_to_buy, volume_on_skin, wet_film, with_loss

SOURCES = (
    "product needed = area x coats / spreading rate / (1 - loss): published coating estimating guides",
    "wet film of one coat: 1 mL on 1 m2 is 1 µm, by definition of the units",
)
ROUNDING = "half up to 0.001"


@dataclass(frozen=True, slots=True)
class Skin:
    """One surface that a planned step lays the product on."""

    surface: Annotated[str, Field("name of the surface")]
    area: Annotated[Quantity | None, Field("its measured area", unit="m2", low=Decimal(0))] = None
    step: Annotated[str, Field("key of the step that lays it")] = ""


@dataclass(frozen=True, slots=True)
class Inputs:
    """One product and the skin it is laid on. Where `area` is given it is the whole area, whatever `skins` say."""

    spreading: Annotated[
        Quantity,
        Field("spreading rate of one coat, from the product's label", unit="m2/L", low=Decimal("0.001")),
    ]
    product: Annotated[str, Field("the product's code")] = "product"
    area: Annotated[Quantity | None, Field("area to coat, measured", unit="m2", low=Decimal(0))] = None
    skins: Annotated[tuple[Skin, ...], Field("surfaces to coat, instead of one area")] = ()
    coats: Annotated[int, Field("how many coats", low=Decimal(1), high=Decimal(20))] = 1
    loss: Annotated[
        Quantity | None,
        Field("share lost on applicator, cup and mask", unit="%", low=Decimal(0), high=Decimal(95)),
    ] = None
    pack: Annotated[Quantity | None, Field("what one pack holds, a volume", unit="mL", low=Decimal("0.001"))] = None
    on_hand: Annotated[Quantity | None, Field("what is on the shelf, a volume", unit="mL", low=Decimal(0))] = None
    pack_price: Annotated[Money | None, Field("what one pack costs")] = None
    by: Annotated[dt.date | None, Field("the day it has to be at hand")] = None


def gather(sheet: Sheet) -> tuple[Inputs, ...]:
    """One input for each product that the planned steps name and whose label gives a spreading rate.

    A step without a surface lays its product on every surface of the aircraft.
    """
    gathered = []
    for code in dict.fromkeys(step.material for step in sheet.steps if step.material is not None):
        product = sheet.product(code)
        spreading = product.fact("spreading") if product else None
        if product is not None and isinstance(spreading, Quantity):
            steps = [step for step in sheet.steps if step.material == code]
            gathered.append(_inputs(sheet, product, spreading, steps))
    return tuple(gathered)


def _inputs(sheet: Sheet, product: Product, spreading: Quantity, steps: list[Step]) -> Inputs:
    loss = product.fact("loss")
    return Inputs(
        spreading=spreading,
        product=product.code,
        skins=tuple(skin for step in steps for skin in _skins(sheet, step)),
        coats=_coats(product),
        loss=loss if isinstance(loss, Quantity) else None,
        pack=product.pack,
        on_hand=product.on_hand,
        pack_price=product.price.of(product.pack) if product.price and product.pack else None,
        by=min((step.starts for step in steps if step.starts is not None), default=None),
    )


def _skins(sheet: Sheet, step: Step) -> Iterable[Skin]:
    surfaces = sheet.aircraft.surfaces if sheet.aircraft else ()
    areas = {surface.name: surface.area for surface in surfaces}
    names = tuple(areas) if step.surface is None else (step.surface,)
    return [Skin(name, areas.get(name), step.key) for name in names]


def _coats(product: Product) -> int:
    """The coats on the label, one if it does not say. Kept as "2" or as 2 each."""
    coats = product.fact("coats")
    if coats is None:
        return 1
    number = coats.value() if isinstance(coats, Quantity) else Fraction(coats) if coats.isdecimal() else None
    if number is None or number.denominator != 1:
        raise NotEnough(f"the coats of {product.code} are {str(coats)!r}, which is no whole number: correct it")
    return int(number)


def compute(inputs: Inputs) -> Result:
    """Product needed, with loss divided, packs rounded up against what is on hand, and their cost.

    Raises:
        NotEnough: no area is known, or a surface's is not.
    """
    area = _area(inputs)
    on_skin = volume_on_skin(area, inputs.spreading, inputs.coats)
    needed = with_loss(on_skin, (inputs.loss.value("%") if inputs.loss else Fraction(0)) / 100)
    unit = inputs.pack.unit if inputs.pack else inputs.on_hand.unit if inputs.on_hand else "mL"
    amount = _volume(needed, unit)
    figures = [
        Figure("area", area.decimal(places=3), area.unit, inputs.product, rounding=ROUNDING),
        Figure(
            "wet film of one coat", _rounded(wet_film(inputs.spreading), 1), "µm", inputs.product,
            rounding="half up to 0.1",
        ),
        Figure("product on the skin", _volume(on_skin, unit).decimal(), unit, inputs.product, rounding=ROUNDING),
        Figure("product needed", amount.decimal(), unit, inputs.product, rounding=ROUNDING),
    ]  # fmt: skip
    packs = None
    if inputs.pack is not None:
        on_hand = inputs.on_hand.value("L") if inputs.on_hand else Fraction(0)
        packs = packs_to_buy(needed, on_hand, inputs.pack.value("L"))
        figures.append(Figure("packs to buy", Decimal(packs), "each", inputs.product, rounding="up to whole packs"))
    if packs is not None and inputs.pack_price is not None:
        cost = inputs.pack_price.times(packs, 1)
        figures.append(Figure("cost of the packs", cost.decimal, cost.currency, inputs.product))
    need = Need(what=inputs.product, amount=amount, step=_step(inputs), packs=packs, by=inputs.by)
    return Result(tuple(figures), needs=(need,), cautions=_cautions(inputs), sources=SOURCES)


def _area(inputs: Inputs) -> Quantity:
    if inputs.area is not None:
        return inputs.area
    if not inputs.skins:
        raise NotEnough(f"no area is given for {inputs.product}: give the area or the surfaces to coat")
    unmeasured = [skin.surface for skin in inputs.skins if skin.area is None]
    if unmeasured:
        names = ", ".join(dict.fromkeys(unmeasured))
        raise NotEnough(f"the area of {names} is not known: measure it before ordering {inputs.product}")
    first, *others = (skin.area for skin in inputs.skins if skin.area is not None)
    return sum(others, first)


def _step(inputs: Inputs) -> str | None:
    """The step the need belongs to, if it is one step's alone."""
    keys = {skin.step for skin in inputs.skins if skin.step}
    return keys.pop() if len(keys) == 1 else None


def _cautions(inputs: Inputs) -> tuple[str, ...]:
    cautions = ["measured area counts: wetted area from tables holds glass, boots and bare metal too"]
    if inputs.loss is None:
        cautions.append(f"no loss is counted for {inputs.product}: its facts give none")
    if inputs.on_hand is None:
        cautions.append(f"nothing is counted as on hand of {inputs.product}")
    if inputs.pack is None:
        cautions.append(f"the pack of {inputs.product} is not known: no packs are counted")
    return tuple(cautions)


def _volume(liters: Fraction, unit: str) -> Quantity:
    """The volume in `unit`, rounded half up to three decimals of it."""
    return Quantity.nearest(liters * Quantity.of(1, "L").value(unit), unit)


def _rounded(value: Fraction, places: int) -> Decimal:
    return Quantity.nearest(value, "µm", places).decimal(places=places)


CALCULATOR = Calculator(
    name="coverage",
    version="1",
    summary="how much product a skin takes, how many packs to buy, and what they cost",
    reads=("steps", "aircraft", "stock"),
    inputs=Inputs,
    gather=gather,
    compute=compute,
)
