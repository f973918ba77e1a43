"""The demo's folder, made once for all tests by the script a newcomer runs, however many processes test.

`./demo/run --first-job` runs the tutorial's job with the coatbook of the environment that runs the tests.
"""

import fcntl
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def run_demo(folder: Path, *, program: Path | None = None) -> str:
    """Run the demo into a new folder, as on a machine that knows nothing of coatbook; what it printed.

    `program` is the coatbook to run it with; without one the script takes the one of its own `.venv`.
    """
    home = folder.with_name(f"{folder.name}-home")
    home.mkdir()
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("COATBOOK_", "PYTHON"))}
    environment |= {
        "HOME": str(home),
        "XDG_CONFIG_HOME": str(home),
        "XDG_DATA_HOME": str(home),
        "PYTHON": sys.executable,
    }
    given = ["--with", str(program)] if program else []
    command = [str(ROOT / "demo" / "run"), *given, "--first-job", str(folder)]
    ran = subprocess.run(command, env=environment, cwd=home, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, f"{ran.stdout}{ran.stderr}"
    assert ran.stderr == ""
    return ran.stdout


def own_program() -> Path | None:
    """The coatbook of the environment that runs the tests; None if that is the demo's own."""
    program = Path(sys.executable).with_name("coatbook")
    return None if program == ROOT / ".venv" / "bin" / "coatbook" else program


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's folder, not to be written into; beside it, printed.txt is what the script said."""
    base = tmp_path_factory.getbasetemp()
    shared = (base.parent if os.environ.get("PYTEST_XDIST_WORKER") else base) / "demo"
    shared.mkdir(exist_ok=True)
    folder, printed = shared / "first-job", shared / "printed.txt"
    with (shared / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)  # another process may be making it
        if not folder.exists():
            printed.write_text(run_demo(folder, program=own_program()), "utf-8")
    assert printed.exists(), "the demo failed when another test ran it"
    return folder
