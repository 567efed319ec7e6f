"""A thousand random actions of a user: nothing breaks, and undo leads back to the start."""

from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QTableView

from spring_layout.deck.validate import faults
from spring_layout.gui.main_window import MainWindow
from spring_layout.gui.panels.fields import Choice, LengthField
from tests.decks import grid_deck
from tests.gui.hands import Hands

KEYS = [
    Qt.Key.Key_Left,
    Qt.Key.Key_Right,
    Qt.Key.Key_Up,
    Qt.Key.Key_Down,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Return,
    Qt.Key.Key_BracketLeft,
    Qt.Key.Key_BracketRight,
    Qt.Key.Key_Backspace,
    Qt.Key.Key_1,
]
MODIFIERS = [
    Qt.KeyboardModifier.NoModifier,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
    Qt.KeyboardModifier.AltModifier,
]
ACTS = [
    "undo",
    "redo",
    "cut",
    "copy",
    "paste",
    "delete",
    "select-all",
    "mirror",
    "keep",
    "even",
    "fit",
    "zoom-in",
    "zoom-out",
    "inches",
    "millimetres",
    "panels",
]
LENGTHS = ["0", "1", "2 1/2", "-3", "57.2 cm", "1'", "seven", "1/0", "", "400 mm", "9999 in"]
places = st.tuples(st.integers(-120, 620), st.integers(-120, 620))
STEPS = 100


class User(RuleBasedStateMachine):
    """Somebody who tries everything, on nine springs."""

    window: MainWindow

    def __init__(self) -> None:
        super().__init__()
        self.hands = Hands(self.window)
        self.window.bench.document.replace(grid_deck(), None)
        self.window.bench.choose_stage("springs")

    @rule(stage=st.sampled_from(["frame", "height", "springs", "base", "ties", "paper"]))
    def turn_to(self, stage: Any) -> None:
        self.hands.bench.choose_stage(stage)

    @rule(data=st.data())
    def take_a_tool(self, data: st.DataObject) -> None:
        tools = [n for n, a in self.window.strip.tools.items() if a.isEnabled()]
        self.hands.tool(data.draw(st.sampled_from(tools)))

    @rule(place=places, keys=st.sampled_from(MODIFIERS))
    def click(self, place: Any, keys: Qt.KeyboardModifier) -> None:
        self.hands.click(place, keys)

    @rule(place=places)
    def double_click(self, place: Any) -> None:
        self.hands.double_click(place)

    @rule(path=st.lists(places, min_size=2, max_size=4), keys=st.sampled_from(MODIFIERS))
    def drag(self, path: Any, keys: Qt.KeyboardModifier) -> None:
        self.hands.drag(path, keys)

    @precondition(lambda self: self.hands.bench.deck is not None and self.hands.deck.springs)
    @rule(data=st.data(), by=st.tuples(st.integers(-90, 90), st.integers(-90, 90)))
    def drag_a_spring(self, data: st.DataObject, by: tuple[int, int]) -> None:
        spring = data.draw(st.sampled_from([s.id for s in self.hands.deck.springs]))
        x, y = self.hands.place_of(spring)
        self.hands.drag([(x, y), (x + by[0] / 2, y + by[1] / 2), (x + by[0], y + by[1])])

    @rule(place=places)
    def press_and_give_up(self, place: Any) -> None:
        self.hands.press(place)
        self.hands.move((place[0] + 30, place[1] + 10))
        self.hands.key(Qt.Key.Key_Escape)
        self.hands.release(place)

    @rule(key=st.sampled_from(KEYS), keys=st.sampled_from(MODIFIERS[:2]))
    def press_a_key(self, key: Qt.Key, keys: Qt.KeyboardModifier) -> None:
        self.hands.key(key, keys)

    @rule(act=st.sampled_from(ACTS))
    def choose_an_action(self, act: str) -> None:
        if self.window.acts[act].isEnabled():
            self.hands.act(act)

    @rule(data=st.data(), text=st.sampled_from(LENGTHS))
    def type_a_length(self, data: st.DataObject, text: str) -> None:
        page = self.window.particulars.page
        fields = [f for f in page.findChildren(LengthField) if f.isVisible() and f.isEnabled()]
        if fields:
            self.hands.type(data.draw(st.sampled_from(fields)), text)

    @rule(data=st.data())
    def switch_or_press_something(self, data: st.DataObject) -> None:
        page = self.window.particulars.page
        buttons = [
            b
            for b in page.findChildren(QAbstractButton)
            if b.isVisible() and b.isEnabled() and not b.text().endswith("…")
        ]
        if buttons:
            data.draw(st.sampled_from(buttons)).click()

    @rule(data=st.data())
    def choose_something(self, data: st.DataObject) -> None:
        page = self.window.particulars.page
        choices = [c for c in page.findChildren(Choice) if c.isVisible() and c.count()]
        if choices:
            choice = data.draw(st.sampled_from(choices))
            choice.choose(str(choice.itemData(data.draw(st.integers(0, choice.count() - 1)))))

    @rule(tab=st.integers(0, 4), row=st.integers(0, 12))
    def turn_to_a_tab_and_pick_a_row(self, tab: int, row: int) -> None:
        self.window.tabs.setCurrentIndex(tab)
        table = self.window.tabs.currentWidget()
        if isinstance(table, QTableView):
            table.selectRow(row)

    @invariant()
    def the_deck_is_sound(self) -> None:
        QApplication.processEvents()
        deck = self.hands.bench.document.deck
        assert deck is not None
        assert faults(deck) == []

    def teardown(self) -> None:
        document, stack = self.hands.bench.document, self.hands.bench.document.undo_stack
        if self.hands.view.tool is not None:
            self.hands.view.tool.settle_up()
            self.hands.view.tool.cancel()
        end, steps = document.deck, stack.index()
        while stack.canUndo():
            stack.undo()
        assert document.deck == grid_deck()
        for _ in range(steps):
            stack.redo()
        assert document.deck == end
        stack.setClean()


def live(window: MainWindow, monkeypatch: pytest.MonkeyPatch, users: int, steps: int) -> None:
    """So many users, each with so many actions."""
    window.placing.work_here()
    monkeypatch.setattr(User, "window", window, raising=False)
    case = User.TestCase
    case.settings = settings(
        max_examples=users,
        stateful_step_count=steps,
        deadline=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    case("runTest").runTest()


def test_a_few_dozen_actions(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, refusals: list[str]
) -> None:
    live(window, monkeypatch, users=1, steps=40)


@pytest.mark.larger
def test_a_thousand_actions(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, refusals: list[str]
) -> None:
    live(window, monkeypatch, users=10, steps=STEPS)
