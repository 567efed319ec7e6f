"""The helper process: answers, tells on the way, can be stopped, keeps the plan in step."""

import os
import time

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from spring_layout.gui.helper import Helper, Here
from spring_layout.gui.main_window import MainWindow
from spring_layout.plan import make_plan
from tests.decks import grid_deck
from tests.gui.hands import Hands


def double(number: int) -> int:
    return 2 * number


def count(tell: object, upto: int) -> int:
    for number in range(upto):
        tell(number)  # type: ignore[operator]  # it is given a function
    return upto


def refuse(why: str) -> None:
    raise ValueError(why)


def linger(seconds: float) -> float:
    time.sleep(seconds)
    return seconds


def vanish() -> None:
    os._exit(3)


@pytest.fixture(scope="module")
def kept(qapp: object) -> object:
    """One process for all: it takes a moment to start."""
    helper = Helper()
    helper.start()
    yield helper
    helper.stop()


def test_a_question_is_answered(kept: Helper, qtbot: QtBot) -> None:
    with qtbot.waitSignal(kept.answered, timeout=20000) as heard:
        ticket = kept.ask(double, 21)
    assert heard.args == [ticket, 42]


def test_what_is_reached_so_far_is_told(kept: Helper, qtbot: QtBot) -> None:
    told: list[int] = []
    kept.told.connect(lambda _ticket, value: told.append(value))
    with qtbot.waitSignal(kept.answered, timeout=20000) as heard:
        kept.ask(count, 4)
    assert told == [0, 1, 2, 3]
    assert heard.args[1] == 4


def test_a_refusal_comes_back_in_words(kept: Helper, qtbot: QtBot) -> None:
    with qtbot.waitSignal(kept.failed, timeout=20000) as heard:
        kept.ask(refuse, "no room for a spring")
    assert heard.args[1] == "no room for a spring"


def test_of_waiting_questions_the_latest_counts(kept: Helper, qtbot: QtBot) -> None:
    answers: list[object] = []
    kept.answered.connect(lambda _ticket, value: answers.append(value))
    kept.ask(linger, 0.2)
    for number in range(5):
        last = kept.ask(double, number)
    qtbot.waitUntil(lambda: 8 in answers, timeout=20000)
    assert answers == [0.2, 8]
    assert last > 0


def test_stopping_drops_the_work_and_the_next_question_is_answered(qtbot: QtBot) -> None:
    helper = Helper()
    answers: list[object] = []
    helper.answered.connect(lambda _ticket, value: answers.append(value))
    helper.ask(linger, 30.0)
    qtbot.waitUntil(lambda: helper.is_ready, timeout=20000)
    helper.stop()
    with qtbot.waitSignal(helper.answered, timeout=20000):
        helper.ask(double, 3)
    helper.stop()
    assert answers == [6]


def test_a_helper_that_is_lost_is_told_of(qtbot: QtBot) -> None:
    helper = Helper()
    with qtbot.waitSignal(helper.failed, timeout=20000) as heard:
        helper.ask(vanish)
    assert "ended unexpectedly" in heard.args[1]
    helper.stop()


def test_without_another_process_it_is_worked_out_here(qapp: object) -> None:
    here, heard = Here(), []
    here.told.connect(lambda _ticket, value: heard.append(("told", value)))
    here.answered.connect(lambda _ticket, value: heard.append(("answered", value)))
    here.failed.connect(lambda _ticket, why: heard.append(("failed", why)))
    here.ask(count, 2)
    here.ask(refuse, "no")
    assert heard == [("told", 0), ("told", 1), ("answered", 2), ("failed", "no")]
    here.told.connect(lambda *_: here.stop())
    here.ask(count, 1)
    assert heard[-1] == ("told", 0)


def test_the_plan_catches_up_while_a_spring_is_dragged(own_hands: Hands, qtbot: QtBot) -> None:
    planner = own_hands.bench.planner
    planner.start_helper()
    assert planner.helper is not None
    qtbot.waitUntil(lambda: planner.helper.is_ready, timeout=20000)  # type: ignore[union-attr]  # started above
    start = own_hands.place_of("s5")
    own_hands.press(start)
    for step in range(1, 12):
        own_hands.move((start[0] + 2 * step, start[1] + step), Qt.KeyboardModifier.AltModifier)
        assert planner.spaces is not None  # the gaps never lag
    assert planner.is_behind
    qtbot.waitUntil(lambda: not planner.is_behind, timeout=20000)
    plan, again = planner.plan, make_plan(own_hands.bench.deck)  # type: ignore[arg-type]  # there is one
    assert plan is not None
    assert plan.parts.ties.lines == again.parts.ties.lines
    assert plan.findings == again.findings
    own_hands.release((start[0] + 22, start[1] + 11))


def test_a_lost_helper_does_not_stop_the_work(
    own_hands: Hands, qtbot: QtBot, refusals: list[str]
) -> None:
    planner = own_hands.bench.planner
    planner.start_helper()
    helper = planner.helper
    assert helper is not None
    qtbot.waitUntil(lambda: helper.is_ready, timeout=20000)
    assert helper._process is not None
    helper._process.kill()
    qtbot.waitUntil(lambda: helper._process is None, timeout=20000)
    assert refusals == ["the helper process ended unexpectedly"]
    refusals.clear()
    own_hands.bench.document.replace(grid_deck(2, 2), None)
    qtbot.waitUntil(lambda: not planner.is_behind, timeout=20000)
    assert planner.plan is not None
    assert len(planner.plan.parts.standing.ids) == 4


def test_a_plan_that_cannot_be_made_is_said_and_the_deck_stays(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, refusals: list[str]
) -> None:
    def broken(deck: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("spring_layout.gui.planner.make_plan", broken)
    window.bench.document.replace(grid_deck(), None)
    assert "division by zero" in window.status.hint.text()
    assert refusals == ["division by zero"]
    refusals.clear()
    assert window.bench.document.deck == grid_deck()
