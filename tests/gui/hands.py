"""The user's hands: press, move and release on the viewport, type, choose from menus."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu, QWidget

from spring_layout.deck.model import Deck
from spring_layout.gui.main_window import MainWindow

Place = tuple[float, float]
NONE = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton
NOTHING = Qt.MouseButton.NoButton


class Hands:
    """Does to the window what a user would; places are mm on the deck."""

    def __init__(self, window: MainWindow) -> None:
        self.window = window
        self.bench = window.bench
        self.view = window.view

    @property
    def deck(self) -> Deck:
        """The deck as it is decided."""
        deck = self.bench.document.deck
        assert deck is not None
        return deck

    def pixel(self, place: Place) -> QPointF:
        """Where a place of the deck lies on the viewport."""
        return self.view.viewportTransform().map(QPointF(*place))

    def press(self, place: Place, keys: Qt.KeyboardModifier = NONE) -> None:
        self._mouse(QEvent.Type.MouseButtonPress, place, LEFT, LEFT, keys)

    def move(self, place: Place, keys: Qt.KeyboardModifier = NONE, held: bool = True) -> None:
        self._mouse(QEvent.Type.MouseMove, place, NOTHING, LEFT if held else NOTHING, keys)

    def release(self, place: Place, keys: Qt.KeyboardModifier = NONE) -> None:
        self._mouse(QEvent.Type.MouseButtonRelease, place, LEFT, NOTHING, keys)

    def click(self, place: Place, keys: Qt.KeyboardModifier = NONE) -> None:
        self.move(place, keys, held=False)
        self.press(place, keys)
        self.release(place, keys)

    def double_click(self, place: Place) -> None:
        self.click(place)
        self._mouse(QEvent.Type.MouseButtonDblClick, place, LEFT, LEFT, NONE)
        self.release(place)

    def drag(self, path: Sequence[Place], keys: Qt.KeyboardModifier = NONE) -> None:
        """Presses at the first place, moves along the path, releases at the last."""
        self.move(path[0], keys, held=False)
        self.press(path[0], keys)
        for place in path[1:]:
            self.move(place, keys)
        self.release(path[-1], keys)

    def key(self, key: Qt.Key, keys: Qt.KeyboardModifier = NONE, on: QWidget | None = None) -> None:
        QTest.keyClick(on or self.view, key, keys)

    def type(self, field: QLineEdit, text: str) -> None:
        """Writes ``text`` into a field and presses Enter."""
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, text)
        QTest.keyClick(field, Qt.Key.Key_Return)

    def act(self, key: str) -> None:
        """Chooses an action as from the menu; it has to be on offer."""
        action = self.window.acts[key]
        assert action.isEnabled(), f"{key} cannot be chosen now"
        action.trigger()
        QApplication.processEvents()

    def tool(self, name: str) -> None:
        """Takes a tool from the strip or the menu."""
        self.window.strip.tools[name].trigger()

    def menu(self, *words: str) -> QAction:
        """The action under these words of the menu bar, ampersands left out."""
        found: QAction | None = None
        actions = self.window.menuBar().actions()
        for word in words:
            found = next(a for a in actions if a.text().replace("&", "").startswith(word))
            below = found.menu()
            if isinstance(below, QMenu):
                below.aboutToShow.emit()
                actions = below.actions()
        assert found is not None
        return found

    def place_of(self, spring: str) -> Place:
        """Where a spring stands, as decided."""
        found = self.deck.spring(spring)
        return found.x, found.y

    def _mouse(
        self,
        kind: QEvent.Type,
        place: Place,
        button: Qt.MouseButton,
        held: Qt.MouseButton,
        keys: Qt.KeyboardModifier,
    ) -> None:
        viewport = self.view.viewport()
        pixel = self.pixel(place)
        whole = QPointF(viewport.mapToGlobal(QPoint(0, 0))) + pixel
        QApplication.sendEvent(viewport, QMouseEvent(kind, pixel, whole, button, held, keys))
