"""The page frame: paper, margins, type, hairlines, and text that flows over as many pages as it needs.

All lengths are points (1/72 in), x from the left edge of the paper, y down from its top. A sheet only places marks;
`pdf.py` draws them once all pages are known, so that each can say of how many it is one.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from coatbook.paper.fonts import text_width
from coatbook.values import Misuse

PAPERS = {"Letter": (612.0, 792.0), "A4": (595.28, 841.89)}
"""Width and height by the name of the paper: ANSI/ASME Y14.1 size A (8.5 by 11 in), ISO 216 A4 (210 by 297 mm)."""

SIDE, TOP, BOTTOM = 57.0, 48.0, 62.0
HAIRLINE, FIRM = 0.4, 1.0
_BASELINE = 0.74  # of the line height, so that sizes that share a line height share a baseline

Ink = tuple[int, int, int]
BLACK: Ink = (22, 22, 22)
GRAY: Ink = (96, 96, 96)
PALE: Ink = (190, 190, 190)


@dataclass(frozen=True, slots=True)
class Style:
    """How text is set: size and line height in points, weight, ink."""

    size: float
    leading: float
    bold: bool = False
    ink: Ink = BLACK


BODY = Style(8.5, 12.5)
STRONG = Style(8.5, 12.5, bold=True)
LABEL = Style(7.5, 12.5, ink=GRAY)
SMALL = Style(7.5, 10.5, ink=GRAY)
SENTENCE = Style(13.5, 20.0)
SUM = Style(13.5, 20.0, bold=True)
FOOT = Style(7.0, 10.0, ink=GRAY)


@dataclass(frozen=True, slots=True)
class Text:
    """One run of text: its left end and baseline."""

    x: float
    y: float
    text: str
    style: Style

    @property
    def width(self) -> float:
        return text_width(self.text, self.style.size, self.style.bold)


@dataclass(frozen=True, slots=True)
class Rule:
    """A horizontal line."""

    x: float
    y: float
    width: float
    weight: float
    ink: Ink


Mark = Text | Rule


def _split_word(word: str, width: float, style: Style) -> list[str]:
    """A word too wide for its line, cut into pieces that fit; at least one character each."""
    pieces, piece = [], ""
    for character in word:
        if piece and text_width(piece + character, style.size, style.bold) > width:
            pieces.append(piece)
            piece = ""
        piece += character
    return [*pieces, piece]


def wrap(text: str, width: float, style: Style) -> list[str]:
    """The lines of `text` in `width`: broken at plain blanks, and inside a word only where it is wider than a line."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}" if line else word
            if text_width(longer, style.size, style.bold) <= width:
                line = longer
                continue
            *full, line = [*([line] if line else []), *_split_word(word, width, style)]
            lines.extend(full)
        lines.append(line)
    return lines


@dataclass(slots=True)
class Sheet:
    """The pages of one document as they fill. `y` is the top of the next line; `running` heads the second page on."""

    paper: str
    running: str
    pages: list[list[Mark]] = field(default_factory=list)
    y: float = 0.0
    on_new_page: Callable[[], None] | None = None

    def __post_init__(self) -> None:
        if self.paper not in PAPERS:
            raise Misuse(f"the paper {self.paper!r} is not known: use one of {', '.join(PAPERS)}")
        self.new_page()

    @property
    def left(self) -> float:
        return SIDE

    @property
    def right(self) -> float:
        return PAPERS[self.paper][0] - SIDE

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def bottom(self) -> float:
        """Where the last line of text on a page may end."""
        return PAPERS[self.paper][1] - BOTTOM

    def new_page(self) -> None:
        """Begin a page; from the second on it says what it continues and repeats what `repeating` holds."""
        self.pages.append([])
        self.y = TOP
        if len(self.pages) > 1:
            self.put(self.running, self.left, LABEL)
            self.down(LABEL.leading + 2)
            self.rule()
            self.down(12)
            if self.on_new_page is not None:
                self.on_new_page()

    def room(self, height: float) -> None:
        """Begin a new page if `height` no longer fits on this one but would on an empty one."""
        if self.y + height > self.bottom + 0.01:
            self.new_page()

    @contextmanager
    def repeating(self, heading: Callable[[], None]) -> Iterator[None]:
        """While the block runs, each new page begins with `heading`."""
        self.on_new_page = heading
        try:
            yield
        finally:
            self.on_new_page = None

    def down(self, height: float) -> None:
        self.y += height

    def rule(self, x: float | None = None, weight: float = HAIRLINE, ink: Ink = GRAY) -> None:
        """A line at the current height, from `x` (the left margin if not given) to the right margin."""
        start = self.left if x is None else x
        self.pages[-1].append(Rule(start, self.y, self.right - start, weight, ink))

    def put(self, text: str, x: float, style: Style) -> None:
        """One line of text with its left end at `x`; the height stays."""
        if text:
            self.pages[-1].append(Text(x, self.y + style.leading * _BASELINE, text, style))

    def put_right(self, text: str, right: float, style: Style) -> None:
        """One line of text with its right end at `right`; the height stays."""
        self.put(text, right - text_width(text, style.size, style.bold), style)

    def paragraph(self, text: str, x: float, width: float, style: Style) -> None:
        """Text in lines of `width`, over pages as needed; the height moves below it."""
        for line in wrap(text, width, style):
            self.room(style.leading)
            self.put(line, x, style)
            self.down(style.leading)
