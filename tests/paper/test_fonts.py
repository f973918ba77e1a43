"""What the typeface holds, and the refusal of what it does not."""

from dataclasses import replace
from importlib.resources import files

import pytest

from coatbook.billing.record import InvoiceRecord
from coatbook.paper.fonts import FACES, check_glyphs, missing_glyphs, text_width
from coatbook.values import Refusal


@pytest.mark.parametrize(
    "text",
    [
        "Żółć, Größe, œuvre, İstanbul, Ørsted, Đặng Thị Hương",
        "Αερολέσχη Θεσσαλονίκης, ΐ ΰ ς",
        "Ћуприја, Ёлка, Київ, Ґ",
        "± × ÷ ° µ μ ² ³ ≤ ≥ ≠ ≈ → ← ½ ⅛ № ™ § † • …",
        "€ £ ¥ ₫ ₴ ₺ ₹ ₽ ¢",
        "no\u00a0break, narrow\u202fone, “quotes”, ‘single’, – and —",
    ],
)
def test_what_the_trade_writes_is_there(text: str) -> None:
    assert missing_glyphs(text) == set()


@pytest.mark.parametrize("character", ["漢", "ع", "ไ", "😀", "\u0000"])
def test_other_scripts_are_missing(character: str) -> None:
    assert missing_glyphs(f"Prairie {character} Wing") == {character}


@pytest.mark.parametrize("bold", [False, True])
def test_figures_are_of_one_width(bold: bool) -> None:
    assert len({text_width(figure, 10, bold) for figure in "0123456789"}) == 1


def test_the_license_goes_with_the_fonts() -> None:
    folder = files("coatbook.paper") / "fonts"
    assert "Permission is hereby granted" in (folder / "LICENSE-DejaVu.txt").read_text(encoding="utf-8")
    assert all(len((folder / name).read_bytes()) < 200_000 for name in FACES.values())


def test_a_missing_character_is_named_with_its_text(invoice: InvoiceRecord) -> None:
    customer = replace(invoice.customer, address=("88 Grange Lane", "漢字 Street"))
    with pytest.raises(Refusal) as refused:
        check_glyphs(replace(invoice, customer=customer))
    said = str(refused.value)
    assert '"漢" (U+6F22)' in said
    assert '"漢字 Street"' in said
    assert "\n" not in said


def test_a_printable_record_passes(invoice: InvoiceRecord) -> None:
    check_glyphs(invoice)
