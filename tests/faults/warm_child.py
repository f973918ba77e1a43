"""A warm child of coatbook that is killed at any instant: forked with everything imported, it runs real commands and
acknowledges each after it returned. A shared byte says whether it is between BEGIN and COMMIT."""

import contextlib
import io
import mmap
import os
import random
import signal
import time
import warnings
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import Engine, event

from coatbook.cli import run

OUTSIDE, INSIDE = 0, 1


@dataclass(frozen=True)
class Killed:
    """How a child ended: the commands it acknowledged, and whether it died between BEGIN and COMMIT."""

    acknowledged: int
    inside: bool


class Child:
    """Runs `commands` one after the other, after `prepare`, until it is killed or done."""

    def __init__(self, commands: Sequence[Sequence[str]], prepare: Callable[[], None] = lambda: None) -> None:
        self._shared = mmap.mmap(-1, 2)  # [0] inside a transaction, [1] transactions begun, modulo 256
        self._reading, writing = os.pipe()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a fork beside threads: the child only runs commands and is killed
            self.pid = os.fork()
        if self.pid == 0:
            os.close(self._reading)
            self._work(commands, writing, prepare)
        os.close(writing)

    def _work(self, commands: Sequence[Sequence[str]], writing: int, prepare: Callable[[], None]) -> None:
        try:
            _mark_transactions(self._shared)
            prepare()
            for command in commands:
                with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
                    code = run(list(command))
                os.write(writing, b"+" if code == 0 else b"-")
        finally:
            os._exit(0)

    def kill(self, begun: int, moment: float) -> Killed:
        """Wait for the `begun`-th transaction to begin and `moment` seconds more, then kill with SIGKILL."""
        until = time.monotonic() + 20
        while self._shared[1] < begun and time.monotonic() < until:
            time.sleep(0.0002)
        time.sleep(moment)
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        inside = self._shared[0] == INSIDE
        answers = os.read(self._reading, 65536)
        os.close(self._reading)
        assert b"-" not in answers, "a command of the child was refused"
        return Killed(len(answers), inside)


def _mark_transactions(shared: mmap.mmap) -> None:
    """Keep the shared byte true: INSIDE from BEGIN until COMMIT or ROLLBACK is asked for."""

    def begun(_connection: object) -> None:
        shared[1] = (shared[1] + 1) % 256
        shared[0] = INSIDE

    def ended(_connection: object) -> None:
        shared[0] = OUTSIDE

    event.listen(Engine, "begin", begun)
    event.listen(Engine, "commit", ended)
    event.listen(Engine, "rollback", ended)


def kills(
    commands: Callable[[], Sequence[Sequence[str]]],
    chance: random.Random,
    wanted_inside: int,
    most: int,
    most_begun: int,
    prepare: Callable[[], None] = lambda: None,
) -> Iterator[Killed]:
    """Kill child after child until enough died inside a transaction."""
    inside = 0
    for _ in range(most):
        killed = Child(commands(), prepare).kill(chance.randint(1, most_begun), chance.uniform(0, 0.012))
        inside += killed.inside
        yield killed
        if inside >= wanted_inside:
            return
    raise AssertionError(f"only {inside} of {most} kills fell between BEGIN and COMMIT")
