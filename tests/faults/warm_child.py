"""A warm child of coatbook that may be killed at any instant: forked with everything imported, it runs real commands
and acknowledges each after it returned. A shared byte says whether it is between BEGIN and COMMIT of a writer."""

import contextlib
import ctypes
import io
import mmap
import os
import random
import signal
import subprocess
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import Engine, event

from coatbook.cli import run

OUTSIDE, INSIDE, COMMITTING = 0, 1, 2
LONGEST = 60  # seconds for a child that is not killed: only a hang takes so long

Commands = Sequence[Sequence[str]]


@dataclass(frozen=True)
class Killed:
    """How a child ended: the commands it acknowledged, and where it was: `OUTSIDE`, `INSIDE` or `COMMITTING`."""

    acknowledged: int
    place: int


class Child:
    """Runs `commands` one after the other, after `prepare`, until it is killed or done.

    With `held`, it waits for `go` first.
    """

    def __init__(self, commands: Commands, prepare: Callable[[], None] = lambda: None, *, held: bool = False) -> None:
        self._shared = mmap.mmap(-1, 2)  # [0] the place, [1] writing transactions begun, modulo 256
        self._reading, writing = os.pipe()
        waiting, self._going = os.pipe()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a fork beside threads: the child only runs commands and is killed
            self.pid = os.fork()
        if self.pid == 0:
            os.close(self._reading)
            os.close(self._going)
            self._work(commands, writing, waiting, prepare)
        os.close(writing)
        os.close(waiting)
        if not held:
            self.go()

    def _work(self, commands: Commands, writing: int, waiting: int, prepare: Callable[[], None]) -> None:
        try:
            _let_any_trace_me()
            _mark_transactions(self._shared)
            prepare()
            os.read(waiting, 1)
            for command in commands:
                with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
                    code = run(list(command))
                os.write(writing, b"+" if code == 0 else b"-")
        finally:
            os._exit(0)

    def go(self) -> None:
        os.write(self._going, b"!")

    def kill(self, begun: int, moment: float) -> Killed:
        """Wait for the `begun`-th writing transaction to begin and `moment` seconds more, then kill with SIGKILL."""
        until = time.monotonic() + LONGEST
        while self._shared[1] < begun and time.monotonic() < until:
            time.sleep(0.0002)
        time.sleep(moment)
        os.kill(self.pid, signal.SIGKILL)
        answers = self.answers()
        assert "-" not in answers, "a command of the child was refused"
        return Killed(len(answers), self._shared[0])

    def answers(self) -> str:
        """Wait for the child's end; a + for each command it acknowledged, a - for each that was refused."""
        os.close(self._going)
        os.waitpid(self.pid, 0)
        answers = os.read(self._reading, 65536)
        os.close(self._reading)
        return answers.decode()


def _let_any_trace_me() -> None:
    """Allow strace to attach where only a parent may (Yama); nothing elsewhere."""
    pr_set_ptracer, any_process = 0x59616D61, ctypes.c_ulong(-1)
    ctypes.CDLL(None).prctl(pr_set_ptracer, any_process, 0, 0, 0)


def _mark_transactions(shared: mmap.mmap) -> None:
    """Keep the shared byte true: INSIDE from the end of BEGIN IMMEDIATE until COMMIT or ROLLBACK is asked for."""

    def executed(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        if statement == "BEGIN IMMEDIATE":
            shared[1] = (shared[1] + 1) % 256
            shared[0] = INSIDE

    def committing(_connection: object) -> None:
        shared[0] = COMMITTING if shared[0] == INSIDE else OUTSIDE

    def ended(*_anything: object) -> None:
        shared[0] = OUTSIDE

    event.listen(Engine, "after_cursor_execute", executed)
    event.listen(Engine, "commit", committing)
    event.listen(Engine, "rollback", ended)
    event.listen(Engine, "checkin", ended)


def kills(
    commands: Callable[[], Commands],
    chance: random.Random,
    wanted_inside: int,
    most: int,
    most_begun: int,
    prepare: Callable[[], None] = lambda: None,
) -> Iterator[Killed]:
    """Kill child after child at random instants until enough died between BEGIN and COMMIT."""
    inside = 0
    for _ in range(most):
        killed = Child(commands(), prepare).kill(chance.randint(1, most_begun), chance.uniform(0, 0.02))
        inside += killed.place == INSIDE
        yield killed
        if inside >= wanted_inside:
            return
    raise AssertionError(f"only {inside} of {most} kills fell between BEGIN and COMMIT")


def killed_at_call(commands: Commands, call: str, nth: int) -> Killed | None:
    """Run commands in a child that dies as it enters its `nth` system call of a kind; None if it makes fewer."""
    child = Child(commands, held=True)
    told = ["strace", "-q", "-p", str(child.pid), "-e", f"trace={call}", "-e", f"inject={call}:signal=KILL:when={nth}"]
    with subprocess.Popen([*told, "-o", "/dev/null"], stderr=subprocess.PIPE, text=True) as strace:
        assert strace.stderr is not None
        _wait_until_traced(child.pid)
        child.go()
        answers = child.answers()
        strace.wait(LONGEST)
    assert "-" not in answers, "a command of the child was refused"
    return None if len(answers) == len(commands) else Killed(len(answers), child._shared[0])


def _wait_until_traced(pid: int) -> None:
    until = time.monotonic() + LONGEST
    while time.monotonic() < until:
        with open(f"/proc/{pid}/status") as status:  # noqa: PTH123
            if any(line.startswith("TracerPid:") and line.split()[1] != "0" for line in status):
                return
        time.sleep(0.001)
    raise AssertionError("strace did not attach to the child")
