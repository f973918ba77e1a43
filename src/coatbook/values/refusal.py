"""The one error a user is meant to see: a sentence saying what, where and what to do."""


class Refusal(Exception):
    """The book or a rule refuses. `str(refusal)` is one clear sentence; the program exits with 1."""

    exit_code = 1


class Misuse(Refusal):
    """What was typed cannot be read as what it should be. The program exits with 2."""

    exit_code = 2
