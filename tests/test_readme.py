"""What README.md shows is true: its deck file is read, and plans without a fault."""

import re
from pathlib import Path

import pytest

from spring_layout.deck.files import DeckFileError, deck_from_bytes
from spring_layout.plan import make_plan

README = (Path(__file__).parents[1] / "README.md").read_text("utf-8")
(EXAMPLE,) = re.findall(r"```json\n(.*?)```", README, re.DOTALL)


def test_the_least_deck_file_is_read_and_plans_without_a_fault():
    plan = make_plan(deck_from_bytes(EXAMPLE.encode()))
    assert [finding.code for finding in plan.findings if finding.severity != "note"] == []
    assert len(plan.parts.ties.lines) == 6


@pytest.mark.parametrize("key", sorted(set(re.findall(r'"(\w+)":', EXAMPLE))))
def test_nothing_of_the_least_deck_file_can_be_left_out(key):
    spoiled = EXAMPLE.replace(f'"{key}":', '"unknown":', 1)
    with pytest.raises(DeckFileError, match=f'"{key}"|deck file'):
        deck_from_bytes(spoiled.encode())
