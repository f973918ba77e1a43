"""A pytest plug-in that counts the published checks that ran and prints them by source at the end of the run.

What ran travels in each report's user properties, so the count is right when the tests run in several processes.
"""

from collections import Counter

import pytest

from published.checks import Check

NAME = "published-checks"
_PROPERTY = "published check"

_ran = pytest.StashKey[dict[str, tuple[str, str]]]()


class Counting:
    """Notes each check as it runs: its id, with source and status."""

    def __init__(self, config: pytest.Config) -> None:
        self.ran = config.stash.setdefault(_ran, {})

    def pytest_runtest_setup(self, item: pytest.Item) -> None:
        for name, source, status in _checks_of(item):
            item.user_properties.append((_PROPERTY, (name, source, status)))

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.when != "call" or report.skipped:
            return
        for kind, value in report.user_properties:
            if kind == _PROPERTY and isinstance(value, tuple | list):
                name, source, status = value
                self.ran[name] = (source, status)

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        if not self.ran:
            return
        statuses = Counter(status for _, status in self.ran.values())
        by_status = ", ".join(f"{count} {status}" for status, count in statuses.most_common())
        sources = Counter(source for source, _ in self.ran.values())
        terminalreporter.section("published checks")
        for source, count in sorted(sources.items()):
            terminalreporter.write_line(f"{count:5}  {source}")
        terminalreporter.write_line(f"{len(self.ran):5}  published checks ran: {by_status}")


def _checks_of(item: pytest.Item) -> list[tuple[str, str, str]]:
    callspec = getattr(item, "callspec", None)
    values = callspec.params.values() if callspec else ()
    found = [(value.id, value.source, value.status) for value in values if isinstance(value, Check)]
    for marker in item.iter_markers("published"):
        found.append((item.nodeid, marker.kwargs["source"], marker.kwargs.get("status", "seen")))
    return found


def count_published_checks(config: pytest.Config) -> None:
    """Start counting, once, whoever asks first."""
    if not config.pluginmanager.has_plugin(NAME):
        config.pluginmanager.register(Counting(config), NAME)
