"""How long ``spring-layout plan`` takes as a whole process, beside the imports alone.

The measure is CPU time, of the program and of Python merely importing numpy, shapely and
scipy.optimize, taken by turns; the bar is 1.6 times. Run with
``pytest tests/bench/test_command_line.py -m bench``.
"""

import os
import statistics
import subprocess
import sys

import pytest

from spring_layout.resources import sample_decks

IMPORTS = [sys.executable, "-c", "import numpy, shapely, scipy.optimize"]
ROUNDS = 7


def cpu_of_children():
    """CPU seconds, user and system, of all processes started so far and ended."""
    times = os.times()
    return times.children_user + times.children_system


def process(command):
    result = subprocess.run(command, capture_output=True, check=False)
    assert result.returncode in (0, 1)
    assert b"Traceback" not in result.stderr
    return result


@pytest.mark.benchmark(timer=cpu_of_children)
@pytest.mark.parametrize("form", [[], ["--json"]], ids=["report", "json"])
@pytest.mark.parametrize("path", sample_decks(), ids=lambda p: p.name.removesuffix(".deck.json"))
def test_plan_as_a_whole_process(benchmark, tell_at_the_end, path, form):
    imports = []

    def imports_alone():
        before = cpu_of_children()
        process(IMPORTS)
        imports.append(cpu_of_children() - before)

    command = [sys.executable, "-m", "spring_layout", "plan", str(path), *form]
    result = benchmark.pedantic(
        process, args=[command], setup=imports_alone, rounds=ROUNDS, warmup_rounds=1
    )
    assert result.stdout
    if benchmark.stats:
        ours = statistics.median(benchmark.stats.stats.data)
        alone = statistics.median(imports[1:])
        name = " ".join([path.name.removesuffix(".deck.json"), *form])
        tell_at_the_end(f"{name}: {ours:.3f} s, {ours / alone:.2f} times the imports alone")
