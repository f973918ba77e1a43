"""The reference pages say what the program does: its commands, units, tables, data, journal and plug-in contract."""

import dataclasses
import re
import typing
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import typer

from coatbook import calculators
from coatbook.billing import journal, moves
from coatbook.calculators import hooks
from coatbook.cli import app
from coatbook.desk.all_tables import ROOMS
from coatbook.store import tables as store_tables
from coatbook.store.tables import Base, law_of
from coatbook.values.quantity import UNITS

DOCS = Path(__file__).parents[2] / "docs"
COMMANDS_PAGE = DOCS / "reference" / "commands.md"
MADE_FROM_HERE = "<!-- from here on made from the program's own help -->\n"
LAWS = {"written once": "W", "issued": "I", "edited": "E"}

Command = Callable[..., tuple[int, str, str]]


def page(name: str) -> str:
    return (DOCS / name).read_text("utf-8")


def _paths(command: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The words of every command, groups left out."""
    if not hasattr(command, "list_commands"):
        yield path
        return
    context = command.context_class(command)
    for name in command.list_commands(context):
        yield from _paths(command.get_command(context, name), (*path, name))


PATHS = tuple(_paths(typer.main.get_command(app)))


def section(help_text: str) -> str:
    """What the reference says of one command: made from its help, nothing added."""
    usage, _, rest = help_text.partition("\n\n")
    told, _, rest = rest.partition("  Example:\n")
    example, _, rest = rest.partition("\n\n")
    words = " ".join(usage.removeprefix("Usage: ").replace("[OPTIONS] ", "").replace("[OPTIONS]", "").split())
    words = re.sub(r"\{([^}]+)\}", lambda found: found[1].upper().replace("ON|OFF", "on|off"), words)
    words = re.sub(r"\[([a-z_]+)\]", lambda found: f"[{found[1].upper()}]", words)
    paragraphs = [" ".join(one.split()) for one in told.split("\n\n") if one.strip()]
    flags = re.findall(r"^  (--[a-z-]+(?: / --[a-z-]+)?)", rest.partition("Options:\n")[2], flags=re.MULTILINE)
    listed = ", ".join(f"`{flag}`" for flag in flags if flag != "--help") or "none"
    shown = "\n".join(line.removeprefix("    ") for line in example.splitlines())
    return "\n".join(
        [
            f"### `{words.removeprefix('coatbook ')}`\n",
            *(f"{one}\n" for one in paragraphs),
            f"Options: {listed}.\n",
            f"```sh\n{shown}\n```\n",
        ]
    )


def test_the_page_of_commands_is_what_the_commands_say(command: Command, tmp_path: Path) -> None:
    made, noun = [], ""
    for path in PATHS:
        if len(path) > 1 and path[0] != noun:
            noun = path[0]
            made.append(f"## {noun}\n")
        code, out, _ = command(*path, "--help")
        assert code == 0
        made.append(section(out))
    head, marker, _ = COMMANDS_PAGE.read_text("utf-8").partition(MADE_FROM_HERE)
    right = f"{head}{MADE_FROM_HERE}\n" + "\n".join(made)
    remedy = tmp_path / "commands.md"
    remedy.write_text(right, "utf-8")
    assert marker
    assert COMMANDS_PAGE.read_text("utf-8") == right, f"look at the difference, then: cp {remedy} {COMMANDS_PAGE}"


def _mentioned(text: str) -> Iterator[str]:
    """What stands after `coatbook` and the options before the noun in a page's code, in blocks and in running text."""
    fenced = re.compile(r"^```\w*\n(.*?)^```$", flags=re.MULTILINE | re.DOTALL)
    lines = [line.strip().removeprefix("$ ") for block in fenced.findall(text) for line in block.splitlines()]
    lines += re.findall(r"^    (.*)$", fenced.sub("", text), flags=re.MULTILINE)
    lines += re.findall(r"`([^`\n]+)`", fenced.sub("", text))
    for line in lines:
        if line.startswith("coatbook "):
            yield re.sub(r"^(--(book|actor) \S+ |--no-plugins )+", "", line.removeprefix("coatbook "))


def _flags(command: Callable[..., tuple[int, str, str]], path: tuple[str, ...]) -> set[str]:
    _, out, _ = command(*path, "--help")
    return set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", out.partition("Options:\n")[2]))


PAGES = sorted([*DOCS.rglob("*.md"), DOCS.parent / "README.md", DOCS.parent / "DEVELOPERS.md"])
NOUNS = {path[0] for path in PATHS if len(path) > 1}
EXAMPLES = {"calc pads", "calc NAME"}  # a plug-in that only a page brings, and a word that stands for any


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(DOCS.parent)))
def test_every_command_and_option_a_page_names_is_there(path: Path, command: Command) -> None:
    for told in _mentioned(path.read_text("utf-8")):
        words = told.split()
        if words[0] in ("…", "--help", "NOUN") or " ".join(words[:2]) in EXAMPLES:
            continue
        named = tuple(words[: 2 if words[0] in NOUNS else 1])
        assert named in PATHS or (len(named) == 2 and named[1] == "--help"), told
        if named in PATHS:
            assert set(re.findall(r"(?<!\S)--[a-z][a-z-]*", told)) <= _flags(command, named), told


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(DOCS.parent)))
def test_every_link_leads_somewhere(path: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", path.read_text("utf-8")):
        assert target.startswith("https://") or (path.parent / target).exists(), target


def test_every_page_stands_in_the_index() -> None:
    linked = set(re.findall(r"\]\(([^)#]+\.md)\)", page("index.md")))
    there = {str(one.relative_to(DOCS)) for one in DOCS.rglob("*.md")} - {"index.md"}
    assert linked >= there


def rows(text: str) -> dict[str, list[str]]:
    """The rows of a page's Markdown tables, by the code in their first cell."""
    cells = [[cell.strip() for cell in line.strip("|").split(" | ")] for line in text.splitlines() if line[:1] == "|"]
    return {row[0].strip("` "): row for row in cells}


def test_every_unit_stands_in_the_table_of_quanta() -> None:
    told = rows(page("reference/units.md"))
    for unit in UNITS.values():
        assert told[unit.name][1] == unit.dimension
        assert told[unit.name][2].replace(",", "") == str(unit.quanta)
        spellings = re.findall(r"`([^`]+)`", told[unit.name][3])
        assert spellings == list(unit.spellings), unit.name


def test_every_table_stands_under_its_room_with_its_law() -> None:
    told = dict(
        re.findall(r"^## (\w+)/\n(.*?)(?=^## |\Z)", page("reference/tables.md"), flags=re.MULTILINE | re.DOTALL)
    )
    rooms = {room.__name__.split(".")[-2]: room for room in (store_tables, *ROOMS)}
    assert set(told) == set(rooms)
    for mapper in Base.registry.mappers:
        name, room = mapper.local_table.name, mapper.class_.__module__.split(".")[-2]
        row = rows(told[room])[name]
        assert row[1] == LAWS[law_of(mapper.local_table)], name
        columns = [column.name for column in mapper.local_table.columns if column.name not in _OF_THE_LAW[row[1]]]
        assert re.findall(r"`(\w+)`", row[2]) == columns, name
    assert sum(len(rows(text)) - 2 for text in told.values()) == len(Base.metadata.tables)


_OF_THE_LAW = {"W": ("id", "act", "on_day", *store_tables.STRUCK), "I": ("id", "act"), "E": ("id",)}


def test_every_account_of_the_journal_is_told() -> None:
    text = page("reference/journal.md")
    accounts = [journal.OWED, journal.MONEY_IN, journal.TAX, journal.STOCK, journal.IN_PROGRESS]
    accounts += [journal.DEPOSITS, journal.AT_THE_START, f"{journal.REVENUE}{moves.DEPOSITS_KEPT}"]
    accounts += [*journal.CLEARING.values(), f"{journal.REVENUE}SERVICE"]
    accounts += [f"{start}{kind}" for start in (journal.COST, journal.SHOP) for kind in moves.JOURNAL_COSTS]
    for account in accounts:
        assert f"`{account}`" in text, account
    assert ", ".join(journal.HEADINGS) in text


def test_every_hook_and_type_of_the_contract_is_told() -> None:
    text = page("plugin-authors.md")
    told = rows(text)
    specified = [name for name, hook in vars(hooks).items() if hasattr(hook, f"{hooks.GROUP}_spec")]
    assert specified
    for name in specified:
        assert f"`{name}()`" in text, name
    for name in calculators.__all__:
        kind = getattr(calculators, name)
        if dataclasses.is_dataclass(kind):
            fields = [field.name for field in dataclasses.fields(kind)]
            assert re.findall(r"`(\w+)`", told[name][1]) == fields, name
        elif typing.get_origin(kind) is typing.Literal:
            assert all(f"`{one}`" in text for one in typing.get_args(kind)), name
        else:
            assert f"`{name}`" in text, name
