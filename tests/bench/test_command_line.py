"""How long ``spring-layout plan`` takes as a whole process, beside the imports alone.

The measure is the ratio of the two medians; it should stay within 1.6. Run with
``pytest tests/bench/test_command_line.py --benchmark-only``.
"""

import subprocess
import sys

import pytest

from spring_layout.resources import sample_decks

IMPORTS = [sys.executable, "-c", "import numpy, shapely, scipy.optimize"]


def process(command):
    result = subprocess.run(command, capture_output=True, check=False)
    assert result.returncode in (0, 1)
    assert b"Traceback" not in result.stderr


def test_the_imports_alone(benchmark):
    benchmark.pedantic(process, args=[IMPORTS], rounds=9, warmup_rounds=2)


@pytest.mark.parametrize("path", sample_decks(), ids=lambda p: p.name.removesuffix(".deck.json"))
def test_plan_as_a_whole_process(benchmark, path):
    command = [sys.executable, "-m", "spring_layout", "plan", str(path)]
    benchmark.pedantic(process, args=[command], rounds=9, warmup_rounds=2)
