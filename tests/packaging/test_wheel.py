"""The wheel: what it carries, and that in an empty environment it does what the source tree does in its own."""

import json
import os
import re
import shutil
import subprocess
import sys
import zipfile
from importlib import import_module, resources
from importlib.metadata import entry_points, version
from pathlib import Path
from typing import Any

import pytest

from acceptance import comparing
from acceptance.demo_folder import ROOT, run_demo
from coatbook.desk.all_tables import metadata
from coatbook.store.upgrade import REVISIONS
from databases import ALL

CALCULATORS = ("coverage", "thickness", "warranty")
UNREACHABLE = re.compile("NewConnectionError|Failed to establish|Temporary failure in name resolution|ProxyError")


def ran(*command: object, env: dict[str, str] | None = None, cwd: Path | None = None) -> str:
    """What a command printed; it must succeed. Where no package index can be reached, the test is left out."""
    words = [str(word) for word in command]
    done = subprocess.run(words, env=env, cwd=cwd, capture_output=True, text=True, check=False)
    if done.returncode and UNREACHABLE.search(done.stdout + done.stderr) and not ALL:
        pytest.skip("no package index can be reached")
    assert done.returncode == 0, f"{' '.join(words)}\n{done.stdout}{done.stderr}"
    return done.stdout


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built as for a release."""
    folder = tmp_path_factory.mktemp("dist")
    ran(sys.executable, "-m", "build", "--wheel", "--outdir", folder, ROOT)
    (path,) = folder.glob("*.whl")
    return path


@pytest.fixture(scope="session")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The coatbook program of an empty environment in which nothing but the wheel was installed."""
    environment = tmp_path_factory.mktemp("empty") / "venv"
    ran(sys.executable, "-m", "venv", environment)
    quiet = ("--quiet", "--disable-pip-version-check", "--no-compile")  # what is imported is compiled then
    ran(environment / "bin" / "pip", "install", *quiet, wheel)
    return environment / "bin" / "coatbook"


@pytest.fixture
def alone(installed: Path, tmp_path: Path) -> Any:
    """Run the installed coatbook far from the source tree; what it printed."""
    environment = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "COATBOOK_BOOK": str(tmp_path / "book.db")}
    return lambda *words: ran(installed, *words, env=environment, cwd=tmp_path)


def test_what_the_wheel_carries(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
        (points,) = (name for name in names if name.endswith("entry_points.txt"))
        told = archive.read(points).decode()
    versions = {name for name in names if re.fullmatch(r"coatbook_migrations/versions/\d{4}_\w+\.py", name)}
    assert sorted(name.rpartition("/")[2][:4] for name in versions) == sorted(REVISIONS)
    assert {
        "coatbook/py.typed",
        "coatbook/cli/__init__.py",
        "coatbook_plugins/py.typed",
        "coatbook_migrations/env.py",
        "coatbook_migrations/script.py.mako",
        "coatbook/paper/fonts/DejaVuSans.ttf",
        "coatbook/paper/fonts/DejaVuSans-Bold.ttf",
        "coatbook/paper/fonts/LICENSE-DejaVu.txt",
        *(f"coatbook_plugins/{name}/__init__.py" for name in CALCULATORS),
        *(f"coatbook_plugins/{name}/README.md" for name in CALCULATORS),
    } <= names
    assert any(re.search(r"\.dist-info/licenses/.*LICENSE-DejaVu\.txt$", name) for name in names)
    assert any(re.search(r"\.dist-info/licenses/LICENSE$", name) for name in names)
    assert "coatbook = coatbook.cli:main" in told
    assert all(f"{name} = coatbook_plugins.{name}" in told for name in CALCULATORS)


def test_the_wheel_carries_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
    tops = {name.partition("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {
        "coatbook",
        "coatbook_plugins",
        "coatbook_migrations",
    }
    strange = (".pyc", ".ini", ".db", ".mo", ".orig")
    assert [
        name
        for name in names
        if name.endswith(strange) or "__pycache__" in name or "/tests/" in name or "/test_" in name
    ] == []


def test_the_wheel_carries_the_whole_tree(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        packed = {name for name in archive.namelist() if ".dist-info/" not in name}
    there = {
        str(path.relative_to(folder))
        for folder in (ROOT / "src", ROOT / "plugins", ROOT / "migrations")
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert packed == there


def test_in_an_empty_environment_the_calculators_are_found(alone: Any) -> None:
    listed = {one["name"]: one for one in json.loads(alone("plugin", "list", "--json"))}
    assert set(listed) == set(CALCULATORS)
    for name, one in listed.items():
        assert (one["origin"], one["standing"], tuple(one["calculators"])) == ("coatbook", "ready", (name,))


def test_in_an_empty_environment_a_book_is_made_by_the_migrations(alone: Any, tmp_path: Path) -> None:
    assert "begins" in alone("init", "--name", "Mesa Alta Finish", "--address", "Hangar 7")
    assert json.loads(alone("book", "info", "--json"))["revision"] == REVISIONS[-1]
    assert json.loads(alone("book", "check", "--json")) == {"ok": True, "findings": []}
    assert (tmp_path / "book.db").stat().st_mode & 0o777 == 0o600


def test_nothing_of_the_tests_or_the_source_tree_is_needed(installed: Path, tmp_path: Path) -> None:
    """What is imported comes from the environment itself, and no test tool is among it."""
    python = installed.with_name("python")
    program = (
        "import coatbook.cli, coatbook_plugins, coatbook_migrations as m; print(coatbook.cli.__file__, m.__file__)"
    )
    told = ran(python, "-c", program, env={"HOME": str(tmp_path)}, cwd=tmp_path).split()
    assert all(Path(path).is_relative_to(installed.parents[1]) for path in told)
    packages = json.loads(ran(python, "-m", "pip", "list", "--format", "json", "--disable-pip-version-check"))
    assert not {"pytest", "hypothesis", "ruff", "mypy"} & {one["name"] for one in packages}


@pytest.fixture(scope="session")
def again(installed: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's folder, as the installed wheel makes it."""
    folder = tmp_path_factory.mktemp("wheel") / "first-job"
    run_demo(folder, program=installed)
    return folder


def test_the_demo_makes_an_equal_folder(again: Path, demo: Path) -> None:
    assert {path.name for path in again.iterdir()} == {path.name for path in demo.iterdir()}
    for name in ("gauge.csv", "review-2026-05.txt", "review-2026-05.json", "journal-2026-05.csv"):
        assert (again / name).read_bytes() == (demo / name).read_bytes(), name
    assert comparing.said(again / "transcript.txt") == comparing.said(demo / "transcript.txt")


@pytest.mark.parametrize("table", sorted(metadata.tables))
def test_the_demo_writes_equal_rows(again: Path, demo: Path, table: str) -> None:
    rows = comparing.rows(demo / "book.db", table)
    assert comparing.rows(again / "book.db", table) == rows
    assert rows or table not in ("act", "entry", "document", "message", "closing")


def test_the_demo_makes_an_equal_book(again: Path, demo: Path) -> None:
    schema = comparing.schema(demo / "book.db")
    assert comparing.schema(again / "book.db") == schema
    assert {name for name, sql in schema if sql.startswith("CREATE TABLE")} - {"alembic_version"} == set(
        metadata.tables
    )
    assert comparing.rows(again / "book.db", "alembic_version") == comparing.rows(demo / "book.db", "alembic_version")


def test_the_demo_makes_equal_papers(again: Path, demo: Path) -> None:
    assert comparing.mail(again / "message-00001.eml") == comparing.mail(demo / "message-00001.eml")
    name = "message-00001.ics"
    ours, theirs = (comparing.alike((folder / name).read_bytes().decode()) for folder in (demo, again))
    assert theirs == ours
    name = "invoice-2026-0001.pdf"
    assert comparing.pages(again / name) == comparing.pages(demo / name)


# The environment the tests run in: an editable install of the source tree, or of a wheel.


def test_here_too_the_entry_points_name_the_calculators() -> None:
    found = {entry.name: entry for entry in entry_points(group="coatbook") if entry.dist}
    own = {name: entry for name, entry in found.items() if entry.dist and entry.dist.name == "coatbook"}
    assert set(own) == set(CALCULATORS)
    assert all(callable(entry.load().calculators) for entry in own.values())


def test_here_too_the_migrations_and_fonts_are_found() -> None:
    folder = resources.files("coatbook_migrations")
    assert folder.joinpath("script.py.mako").is_file()
    found = {one.name[:4] for one in folder.joinpath("versions").iterdir() if re.match(r"\d{4}_", one.name)}
    assert found == set(REVISIONS)
    assert resources.files("coatbook.paper").joinpath("fonts", "DejaVuSans.ttf").is_file()
    assert import_module("coatbook_plugins")


def test_here_too_the_program_stands_beside_python(tmp_path: Path) -> None:
    program = shutil.which("coatbook", path=str(Path(sys.executable).parent))
    assert program is not None
    assert ran(program, "--version", cwd=tmp_path) == f"coatbook {version('coatbook')}\n"
