"""Benchmarks are never part of pass or fail: they run only when asked for with ``-m bench``."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

HERE = Path(__file__).parent


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if HERE in item.path.parents:
            item.add_marker(pytest.mark.bench)


@pytest.fixture(scope="module")
def tell_at_the_end(request: pytest.FixtureRequest) -> Iterator[Callable[[str], None]]:
    """Takes lines to print once the module's benchmarks are through."""
    lines: list[str] = []
    yield lines.append
    plugins = request.config.pluginmanager
    with plugins.get_plugin("capturemanager").global_and_fixture_disabled():
        for line in lines and ["", *lines]:
            plugins.get_plugin("terminalreporter").write_line(line)
