"""A calculator that misbehaves is named, the others still answer, and neither book nor processes show a trace of it."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from coatbook.calculators import Result, Verdict
from coatbook.store.book import Book
from coatbook.store.check import check
from conftest import written
from desk.injected import BROKEN, Inputs, calculator, children, put, raises
from desk.shopfloor import read_film

Command = Callable[..., tuple[int, str, str]]


@pytest.fixture(autouse=True)
def _leaves_no_child() -> Iterator[None]:
    before = children()
    yield
    assert children() == before


@pytest.mark.parametrize("kind", BROKEN)
def test_it_is_named_and_the_others_answer(
    shop: Book, book_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    compute, failure = BROKEN[kind]
    put(monkeypatch, calculator("gloss", compute))
    read_film(shop, "2026-04-01")
    before = written(book_path)
    code, out, err = command("calc", "gloss", "--job", "1")
    assert (code, out) == (1, "")
    assert err.startswith("coatbook: the calculator gloss 7 ")
    assert failure in err
    assert "Traceback" not in err
    for name, figure in (("thickness", "lower bound"), ("coverage", "product needed")):
        code, out, err = command("calc", name, "--job", "1", "--json")
        assert (code, err) == (0, "")
        assert figure in [one["name"] for one in json.loads(out)["figures"]]
    assert written(book_path) == before
    assert check(shop) == []


@pytest.mark.parametrize("kind", BROKEN)
def test_in_one_run_of_all_calculators_the_others_count(
    shop: Book, book_path: Path, command: Command, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    compute, failure = BROKEN[kind]
    put(monkeypatch, calculator("gloss", compute))
    before = written(book_path)
    code, out, err = command("job", "agree", "1", "--by", "Jo Alder")
    assert (code, out) == (1, "")
    assert "the safety gate stops job 1 (left wing: no film was read on left wing" in err  # thickness answered
    assert written(book_path) == before
    read_film(shop, "2026-04-01")
    code, out, err = command("job", "agree", "1", "--by", "Jo Alder")
    assert (code, err) == (0, "")
    assert out.startswith("Note: the calculator gloss 7 ")
    assert failure in out
    assert out.count("\nJob 1 is agreed with Jo Alder.\n") == 1
    assert check(shop) == []


def test_the_answers_of_one_that_fails_for_some_are_printed_first(
    shop: Book, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    def sometimes(inputs: Inputs) -> Result:
        return raises(inputs) if inputs.of == "left wing" else Result(verdicts=(Verdict(inputs.of, "go", "it shines"),))

    put(monkeypatch, calculator("gloss", sometimes, lambda _: (Inputs("elevator"), Inputs("left wing"))))
    code, out, err = command("calc", "gloss", "--job", "1")
    assert code == 1
    assert out == "elevator: go. It shines.\n"
    assert "the calculator gloss 7 raised ValueError: the paint is wet" in err
