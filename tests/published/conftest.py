"""Counts the published checks of this folder; see counting.py."""

import pytest

from published.counting import count_published_checks


def pytest_configure(config: pytest.Config) -> None:
    count_published_checks(config)
