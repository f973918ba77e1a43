"""One forked child: started, listened to line by line against a clock, killed with its group, and reaped."""

import contextlib
import faulthandler
import gc
import os
import select
import signal
import sys
import time
import warnings
from collections import deque
from collections.abc import Callable, Iterator
from pathlib import Path
from types import TracebackType
from typing import Any, NoReturn, Self

from coatbook.values import Refusal

try:
    import resource
except ImportError:  # a system without fork has no resource limits either
    resource = None  # type: ignore[assignment]

Write = Callable[[bytes], None]

CHUNK = 65_536
OUR_FAULT, OUT_OF_MEMORY = 70, 71
LEAVING = 2.0  # seconds a child may take to exit once its pipe is closed
ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")

_inherited: list[Any] = []


def contained() -> bool:
    """Whether calculators run in a child of their own, and thus under limits."""
    return hasattr(os, "fork") and resource is not None


class Silent(Exception):
    """The child says no more. `str()` is what it did: "ran longer than 5 s and was stopped"."""


class Child:
    """A process that runs `work(write)`, and is gone with all its children when the `with` block is left.

    `memory` is how many bytes of address space it may take beyond what the program has when it forks.
    """

    def __init__(self, work: Callable[[Write], None], memory: int) -> None:
        self._lines: deque[bytes] = deque()
        self._unfinished = b""
        self._reading, writing = os.pipe()
        try:
            self._pid = _fork()
        except OSError as error:
            os.close(self._reading)
            os.close(writing)
            raise Refusal(f"no process can be started for a calculator: {error.strerror}") from None
        if self._pid == 0:
            _be_the_child(work, self._reading, writing, memory)
        with contextlib.suppress(OSError):  # the child does it too: whoever comes first
            os.setpgid(self._pid, self._pid)
        os.close(writing)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._end()
        os.close(self._reading)

    def line(self, seconds: float, longest: int) -> bytes:
        """The child's next line, without its end.

        Raises:
            Silent: it ran longer than `seconds`, wrote more than `longest` bytes in a line, or is gone.
        """
        until = time.monotonic() + seconds
        while not self._lines:
            ready, _, _ = select.select([self._reading], [], [], max(0.0, until - time.monotonic()))
            if not ready:
                raise Silent(f"ran longer than {seconds:g} s and was stopped")
            chunk = os.read(self._reading, CHUNK)
            if not chunk:
                self._await_exit()
                raise Silent(_ending(self._end(), seconds))
            *finished, self._unfinished = (self._unfinished + chunk).split(b"\n")
            self._lines.extend(finished)
            if len(self._unfinished) > longest:
                raise Silent(f"answered with more than {longest} bytes and was stopped")
        said = self._lines.popleft()
        if len(said) > longest:
            raise Silent(f"answered with more than {longest} bytes and was stopped")
        return said

    def _await_exit(self) -> None:
        """Give a child whose pipe is closed the time to leave by itself, so that its own status is told.

        It is left unreaped: its group is still to be killed under its number.
        """
        until = time.monotonic() + LEAVING
        seen = os.WEXITED | os.WNOHANG | os.WNOWAIT
        with contextlib.suppress(ChildProcessError):
            while os.waitid(os.P_PID, self._pid, seen) is None and time.monotonic() < until:
                time.sleep(0.002)

    def _end(self) -> int:
        """Kill the child's group and reap the child: its wait status, 0 if it was reaped before.

        The group is killed first, while the unreaped child still holds its number. A child that is exiting by
        itself keeps its own status.
        """
        pid, self._pid = self._pid, 0
        if not pid:
            return 0
        for kill in (os.killpg, os.kill):
            with contextlib.suppress(ProcessLookupError, PermissionError):
                kill(pid, signal.SIGKILL)
        with contextlib.suppress(ChildProcessError):
            return os.waitpid(pid, 0)[1]
        return 0


@contextlib.contextmanager
def alarmed(seconds: float) -> Iterator[None]:
    """Inside the child: the system itself ends the child after `seconds`, even if no parent is left to do it."""
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)


def _fork() -> int:
    with warnings.catch_warnings():
        # Python 3.12 warns if threads run: the child touches nothing of theirs, and leaves by os._exit.
        warnings.simplefilter("ignore", DeprecationWarning)
        return os.fork()


def _ending(status: int, seconds: float) -> str:
    if os.WIFSIGNALED(status):
        number = os.WTERMSIG(status)
        if number == signal.SIGALRM:
            return f"ran longer than {seconds:g} s and was stopped"
        return f"crashed its process ({signal.Signals(number).name})"
    code = os.waitstatus_to_exitcode(status)
    if code == OUT_OF_MEMORY:
        return "asked for more memory than it may have"
    return f"ended its process (exit {code})"


def _be_the_child(work: Callable[[Write], None], reading: int, writing: int, memory: int) -> NoReturn:
    """Never returns, never runs the program's own clean-up: whatever happens, the child leaves by os._exit."""
    status = OUR_FAULT
    try:
        os.close(reading)
        _settle(memory)
        work(lambda data: _write_all(writing, data))
        status = 0
    except MemoryError:
        status = OUT_OF_MEMORY
    finally:
        os._exit(status)


def _settle(memory: int) -> None:
    """Leave what belongs to the parent alone: its terminal, its signals, its unflushed output, its objects."""
    os.setpgid(0, 0)
    gc.freeze()
    faulthandler.disable()
    signal.set_wakeup_fd(-1)
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGCHLD):
        signal.signal(number, signal.SIG_DFL)
    null = os.open(os.devnull, os.O_RDWR)
    for descriptor in (0, 1, 2):
        os.dup2(null, descriptor)
    _inherited.extend((sys.stdin, sys.stdout, sys.stderr))  # kept, so that none is flushed by being dropped
    sys.stdin = sys.stdout = sys.stderr = os.fdopen(null, "r+", encoding="utf-8", errors="replace")
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))  # each thread of a library would reserve memory
    _limit(resource.RLIMIT_CORE, 0)
    _limit(resource.RLIMIT_AS, _taken() + memory)


def _limit(what: int, wanted: int) -> None:
    _, hard = resource.getrlimit(what)
    with contextlib.suppress(ValueError, OSError):  # some systems do not limit address space
        resource.setrlimit(what, (wanted if hard == resource.RLIM_INFINITY else min(wanted, hard), hard))


def _taken() -> int:
    """Bytes of address space in use; where the system does not tell, a gigabyte is assumed."""
    try:
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    except OSError:
        return 1 << 30
    return pages * resource.getpagesize()


def _write_all(writing: int, data: bytes) -> None:
    while data:
        data = data[os.write(writing, data) :]
