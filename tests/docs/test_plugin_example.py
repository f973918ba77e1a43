"""The calculator shown to plug-in authors works as it stands: found, enabled, used, and passed by the kit."""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from docs.shell import DOCS, blocks

PAGE = (DOCS / "plugin-authors.md").read_text("utf-8")
MODULE, CHECKS = blocks(PAGE, "python")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The example as an installer would leave it: the module, and the metadata that its pyproject.toml makes."""
    project = tomllib.loads(blocks(PAGE, "toml")[0])["project"]
    (tmp_path / "pads.py").write_text(MODULE, "utf-8")
    (tmp_path / "test_pads.py").write_text(CHECKS, "utf-8")
    info = tmp_path / f"{project['name'].replace('-', '_')}-{project['version']}.dist-info"
    info.mkdir()
    names = f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n"
    (info / "METADATA").write_text(names, "utf-8")
    points = "".join(f"{name} = {where}\n" for name, where in project["entry-points"]["coatbook"].items())
    (info / "entry_points.txt").write_text(f"[coatbook]\n{points}", "utf-8")
    return tmp_path


def ran(folder: Path, *arguments: str) -> str:
    """What a Python started in the folder, with the folder on its path, prints."""
    surroundings = os.environ | {"PYTHONPATH": str(folder), "XDG_CONFIG_HOME": str(folder / "config")}
    done = subprocess.run(
        [sys.executable, *arguments], cwd=folder, env=surroundings, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_it_is_found_enabled_and_used(folder: Path) -> None:
    start = ("-c", "from coatbook.cli import main; main()")
    assert "pads       shop-pads 0.1   not enabled" in ran(folder, *start, "plugin", "list")
    assert "enabled" in ran(folder, *start, "plugin", "enable", "pads")
    shown = next(block for block in blocks(PAGE, "text") if "pads" in block)
    assert ran(folder, *start, "calc", "pads", "--area", "454 ft2").startswith(shown)


def test_it_passes_the_kit(folder: Path) -> None:
    assert " passed" in ran(
        folder, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", str(folder), "test_pads.py"
    )
