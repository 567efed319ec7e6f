"""Every action of the window: its words, icon, keys and what its tooltip says."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QWidget

from spring_layout.gui.theme.icons import icon
from spring_layout.gui.theme.palettes import Palette

Keys = QKeySequence.StandardKey


@dataclass(frozen=True)
class Act:
    """What an action is before it is made; ``checks`` makes it a switch."""

    key: str
    words: str
    icon: str = ""
    keys: tuple[str | QKeySequence.StandardKey, ...] = ()
    tip: str = ""
    checks: bool = False


ACTS = (
    Act("new", "&New deck…", "document-new", (Keys.New,), "Begin a deck from a plain shape"),
    Act("open", "&Open…", "document-open", (Keys.Open,), "Open a deck file"),
    Act("save", "&Save", "document-save", (Keys.Save,), "Save the deck"),
    Act(
        "save-as",
        "Save &as…",
        "document-save-as",
        (Keys.SaveAs, "Ctrl+Shift+S"),
        "Save the deck under another name",
    ),
    Act(
        "export",
        "&Export the sheet…",
        "document-export",
        ("Ctrl+E",),
        "Save the sheet as pictures (SVG) or for printing (PDF)",
    ),
    Act(
        "print",
        "&Print the sheet…",
        "document-print",
        (Keys.Print,),
        "Print the sheet that the paper stage shows",
    ),
    Act("quit", "&Quit", "application-exit", ("Ctrl+Q",), "Close the window"),
    Act("undo", "&Undo", "edit-undo", (Keys.Undo,), "Take the last step back"),
    Act("redo", "&Redo", "edit-redo", (Keys.Redo, "Ctrl+Shift+Z"), "Do the step again"),
    Act("cut", "Cu&t", "edit-cut", (Keys.Cut,), "Cut the selected springs"),
    Act("copy", "&Copy", "edit-copy", (Keys.Copy,), "Copy the selected springs"),
    Act("paste", "&Paste", "edit-paste", (Keys.Paste,), "Paste springs beside the copied ones"),
    Act(
        "delete",
        "&Remove",
        "edit-delete",
        (Keys.Delete, "Backspace"),
        "Remove the selected springs or corner",
    ),
    Act(
        "select-all",
        "Select &all springs",
        "edit-select-all",
        (Keys.SelectAll,),
        "Select every spring",
    ),
    Act(
        "mirror",
        "&Mirror the springs",
        "object-flip-horizontal",
        ("Ctrl+M",),
        "Set a spring at the mirrored place of each selected one",
    ),
    Act(
        "keep",
        "&Keep here",
        "keep-here",
        ("K",),
        "Keep the selected springs where they are when the others are spaced evenly",
        True,
    ),
    Act(
        "suggest",
        "Suggest &layouts…",
        "suggest-layouts",
        ("L",),
        "See two to four layouts of springs for this frame and choose one",
    ),
    Act(
        "even",
        "Space &evenly",
        "space-evenly",
        ("E",),
        "Move the springs that are not kept until gaps and distances are as equal as they can be",
    ),
    Act("stop", "S&top", "process-stop", (), "Stop what is being worked out"),
    Act("fit", "&Whole frame", "zoom-fit-best", ("F", "Home"), "Show the whole frame"),
    Act("zoom-in", "Zoom &in", "zoom-in", (Keys.ZoomIn, "Ctrl+="), "Look closer"),
    Act("zoom-out", "Zoom &out", "zoom-out", (Keys.ZoomOut,), "Look from farther away"),
    Act("true-size", "&True size", "zoom-original", ("Ctrl+1",), "Show the deck as large as it is"),
    Act(
        "panels",
        "Hide the &panels",
        "view-fullscreen",
        ("F11",),
        "Let the deck fill the window",
        True,
    ),
    Act("inches", "&Inches", "", (), "Show and read lengths in inches", True),
    Act("millimetres", "&Millimetres", "", (), "Show and read lengths in millimetres", True),
    Act("help", "&How it works", "help-contents", (Keys.HelpContents,), "One page of help"),
    Act("about", "&About Spring Layout", "help-about", (), "Version and licence"),
)
"""Everything that the menus hold, but stages, tools, recent decks and samples."""


class Actions:
    """The window's actions by their keys."""

    def __init__(self, window: QWidget) -> None:
        self._window = window
        self._made: dict[str, QAction] = {}
        self._icons: dict[str, str] = {}
        for act in ACTS:
            self.add(act)

    def add(self, act: Act) -> QAction:
        """Makes one more action."""
        action = QAction(act.words, self._window)
        # on some desktops a standard key is the very one that is named beside it
        action.setShortcuts(list(dict.fromkeys(QKeySequence(key) for key in act.keys)))
        plain = act.words.replace("&", "").rstrip("…")
        shown = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        tip = act.tip or plain
        action.setToolTip(f"{tip} ({shown})" if shown else tip)
        action.setStatusTip(tip)
        action.setCheckable(act.checks)
        self._made[act.key] = action
        self._icons[act.key] = act.icon
        self._window.addAction(action)
        return action

    def __getitem__(self, key: str) -> QAction:
        return self._made[key]

    def does(self, key: str, what: Callable[[], object]) -> None:
        """``what`` is done when the action is chosen."""
        self._made[key].triggered.connect(lambda *_: what())

    def only_at(self, key: str, *places: QWidget) -> None:
        """The keys of an action work only while one of ``places`` itself has the keyboard."""
        action = self._made[key]
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self._window.removeAction(action)
        for place in places:
            place.addAction(action)

    def group(self, *keys: str) -> QActionGroup:
        """Makes these actions exclude each other."""
        group = QActionGroup(self._window)
        for key in keys:
            group.addAction(self._made[key])
        return group

    def restyle(self, palette: Palette) -> None:
        """Tints the icons."""
        for key, action in self._made.items():
            if self._icons[key]:
                action.setIcon(icon(self._icons[key], palette))
