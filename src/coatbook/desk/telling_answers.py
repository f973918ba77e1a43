"""A calculator's answers in words and as data with stable keys."""

from collections.abc import Sequence
from typing import Any

from coatbook.calculators import Figure, Result
from coatbook.calculators.host import Answer
from coatbook.desk.wording import itself
from coatbook.values import frozen
from coatbook.values.quantity import plain
from coatbook.values.words import table

PARTS = ("figures", "verdicts", "needs", "dues", "cautions", "sources")


def answers_data(answers: Sequence[Answer]) -> dict[str, Any]:
    """All answers of one calculator as one record; `inputs` is a list where there were several."""
    inputs = [frozen.plain(one.inputs) for one in answers]
    data: dict[str, Any] = {
        "calculator": answers[0].calculator,
        "version": answers[0].version,
        "inputs": inputs[0] if len(inputs) == 1 else inputs,
    }
    for part in PARTS:
        items = [frozen.plain(item) for one in answers if one.result for item in getattr(one.result, part)]
        data[part] = list(dict.fromkeys(items)) if part in ("cautions", "sources") else items
    data["refused"] = [one.refusal or one.failure for one in answers if one.result is None]
    return data


def answers_story(answers: Sequence[Answer]) -> str:
    """All answers of one calculator: verdicts and dues first, then figures, needs, cautions and sources."""
    results = [one.result for one in answers if one.result]
    told = [
        f"{verdict.of}: {verdict.level}. {_sentence(itself(verdict.of, verdict.reason))}"
        for one in results
        for verdict in one.verdicts
    ]
    told += _block(("item", "coating", "opens", "due", "closes", "state"), [
        (due.item, due.coating, str(due.opens), str(due.due), str(due.closes), due.state)
        for one in results for due in one.dues
    ])  # fmt: skip
    told += _block(("of", "figure", "value", "unit", "range"), [
        (figure.of, figure.name, plain(figure.value), figure.unit, _range(figure))
        for one in results for figure in one.figures
    ], right=(2,))  # fmt: skip
    told += _block(("need", "amount", "packs to buy"), [
        (need.what, str(need.amount), "" if need.packs is None else str(need.packs))
        for one in results for need in one.needs
    ], right=(2,))  # fmt: skip
    return "\n".join([*told, *_notes("Cautions", results, "cautions"), *_notes("Sources", results, "sources")]).strip()


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."


def _range(figure: Figure) -> str:
    if figure.low is None or figure.high is None:
        return ""
    return f"{plain(figure.low)} to {plain(figure.high)}"


def _block(headings: tuple[str, ...], rows: list[tuple[str, ...]], right: tuple[int, ...] = ()) -> list[str]:
    return ["", table(headings, rows, right)] if rows else []


def _notes(title: str, results: Sequence[Result], part: str) -> list[str]:
    items = dict.fromkeys(item for one in results for item in getattr(one, part))
    return ["", title, *(f"  {item}" for item in items)] if items else []
