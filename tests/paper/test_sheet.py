"""The page frame: lines fit their width, and nothing stands outside the margins."""

import pytest

from coatbook.paper.fonts import text_width
from coatbook.paper.pdf import readable_ink
from coatbook.paper.sheet import BLACK, BODY, PAPERS, Sheet, wrap
from coatbook.values import Misuse


@pytest.mark.parametrize(
    "text", ["a few plain words", "W" * 300, "word " + "x" * 90 + " word", "ends  twice ", "", "two\nlines"]
)
def test_wrapped_lines_fit_and_lose_nothing(text: str) -> None:
    lines = wrap(text, 80, BODY)
    assert all(text_width(line, BODY.size) <= 80 for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "").replace("\n", "")


def test_a_date_held_together_goes_to_the_next_line_whole() -> None:
    assert wrap("handed over on July\u00a017,\u00a02026", 100, BODY) == ["handed over on", "July\u00a017,\u00a02026"]


def test_a_new_page_repeats_its_heading() -> None:
    sheet = Sheet("A4", "Continued")
    with sheet.repeating(lambda: sheet.put("Heading", sheet.left, BODY)):
        for number in range(100):
            sheet.room(BODY.leading)
            sheet.put(f"line {number}", sheet.left, BODY)
            sheet.down(BODY.leading)
    assert len(sheet.pages) == 2
    assert [getattr(mark, "text", None) for mark in sheet.pages[1]][:4] == ["Continued", None, "Heading", "line 58"]


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(Misuse, match=", ".join(PAPERS)):
        Sheet("Folio", "")


def test_a_pale_color_is_darkened_until_it_reads() -> None:
    assert readable_ink("#31556b", BLACK) == (0x31, 0x55, 0x6B)
    assert readable_ink(None, BLACK) == BLACK
    red, green, blue = readable_ink("#ffdd00", BLACK)
    assert (red < 0xFF, green < 0xDD, blue) == (True, True, 0)
