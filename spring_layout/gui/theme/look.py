"""Turns a palette into Qt's own palette and the program's style sheet."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QStyle

from spring_layout.gui.theme.palettes import Palette
from spring_layout.resources import icons_folder

STEP = 8
"""px; every space on screen is a multiple of this or its half."""

TEXT, SMALL, LARGE = 10.0, 9.0, 13.0
"""pt; the three sizes of text."""

_ROLES = {
    QPalette.ColorRole.Window: "desk",
    QPalette.ColorRole.WindowText: "ink",
    QPalette.ColorRole.Base: "field",
    QPalette.ColorRole.AlternateBase: "paper",
    QPalette.ColorRole.Text: "ink",
    QPalette.ColorRole.PlaceholderText: "faint",
    QPalette.ColorRole.Button: "paper",
    QPalette.ColorRole.ButtonText: "ink",
    QPalette.ColorRole.ToolTipBase: "field",
    QPalette.ColorRole.ToolTipText: "ink",
    QPalette.ColorRole.Highlight: "accent",
    QPalette.ColorRole.HighlightedText: "on_accent",
    QPalette.ColorRole.Link: "accent",
    QPalette.ColorRole.LinkVisited: "accent",
    QPalette.ColorRole.Mid: "hair",
    QPalette.ColorRole.Accent: "accent",
}
_MUTED = (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText)


def wear(app: QApplication, palette: Palette) -> None:
    """Gives the whole program the look of ``palette``."""
    sheet = style_sheet(palette)
    if app.styleSheet() != sheet:  # setting it again would go through every widget for nothing
        app.setPalette(qt_palette(palette))
        app.setStyleSheet(sheet)


def qt_palette(palette: Palette) -> QPalette:
    """``palette`` as Qt wants it."""
    made = QPalette()
    for role, name in _ROLES.items():
        made.setColor(role, QColor(getattr(palette, name)))
    for role in _MUTED:
        made.setColor(QPalette.ColorGroup.Disabled, role, QColor(palette.ring_faint))
    return made


def system_is_dark() -> bool:
    """Whether the desktop asks for dark windows."""
    return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark


def system_moves() -> bool:
    """Whether the desktop shows motion; where it asks for less, styles animate for no time."""
    style = QApplication.style()
    return style.styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration) > 0


def font(size: float = TEXT, bold: bool = False) -> QFont:
    """The program's font at ``size`` pt, figures all of one width."""
    made = QFont(QGuiApplication.font())
    made.setPointSizeF(size)
    made.setBold(bold)
    if hasattr(QFont, "Tag"):
        made.setFeature(QFont.Tag("tnum"), 1)
    return made


def style_sheet(palette: Palette) -> str:
    """The style sheet: flat, warm, thin rules, room round everything that is pressed."""
    colours = {name: getattr(palette, name) for name in palette.__dataclass_fields__}
    tick = icons_folder() / f"tick-{'dark' if palette.dark else 'light'}.svg"
    sheet = _SHEET.replace("@tick@", tick.as_posix())
    for name in sorted(colours, key=len, reverse=True):
        sheet = sheet.replace(f"@{name}@", str(colours[name]))
    return sheet


_SHEET = """
QWidget { font-size: 10pt; }
QMainWindow, QDialog { background: @desk@; }
QToolTip { background: @field@; color: @ink@; border: 1px solid @hair@; padding: 4px 6px; }
QMenuBar { background: @desk@; padding: 2px 4px; }
QMenuBar::item { padding: 5px 10px; border-radius: 4px; background: transparent; }
QMenuBar::item:selected { background: @accent_wash@; color: @ink@; }
QMenu { background: @field@; border: 1px solid @hair@; padding: 4px; }
QMenu::item { padding: 6px 28px 6px 10px; border-radius: 4px; }
QMenu::icon { padding-left: 8px; }
QMenu::item:selected { background: @accent_wash@; color: @ink@; }
QMenu::item:disabled { color: @ring_faint@; }
QMenu::separator { height: 1px; background: @hair@; margin: 4px 6px; }
QStatusBar { background: @desk@; color: @faint@; border-top: 1px solid @hair@; }
QStatusBar::item { border: none; }
QScrollArea, QScrollArea > QWidget > QWidget { background: transparent; border: none; }
#sheet { background: @paper@; border: none; }
#sheet[side="left"] { border-right: 1px solid @hair@; }
#sheet[side="right"] { border-left: 1px solid @hair@; }
#sheet[side="bottom"] { border-top: 1px solid @hair@; }
#toolStrip { background: @paper@; border-bottom: 1px solid @hair@; }
QDialogButtonBox, QMessageBox { dialogbuttonbox-buttons-have-icons: 0; }
QPushButton, QToolButton, QCheckBox, QTabBar, QSlider { outline: none; }
QLabel { background: transparent; }
QLabel[tone="title"] { font-size: 13pt; font-weight: 600; }
QLabel[tone="heading"] { font-weight: 600; color: @ink@; }
QLabel[tone="faint"] { color: @faint@; }
QLabel[tone="small"] { color: @faint@; font-size: 9pt; }
QLabel[tone="wrong"] { color: @mark@; }
QPushButton, QToolButton[tone="button"] { background: @field@; color: @ink@;
  border: 1px solid @hair@; border-radius: 5px; padding: 6px 12px; min-height: 20px; }
QPushButton:hover, QToolButton[tone="button"]:hover { border-color: @accent@; }
QPushButton:pressed { background: @accent_wash@; }
QPushButton:focus { border: 2px solid @accent@; padding: 5px 11px; }
QPushButton:disabled { color: @ring_faint@; background: transparent; }
QPushButton:checked { background: @accent_wash@; border-color: @accent@; }
QPushButton[tone="main"] { background: @accent@; color: @on_accent@; border-color: @accent@; }
QPushButton[tone="main"]:focus { border-color: @ink@; }
QPushButton[tone="main"]:disabled { background: @hair@; color: @faint@; border-color: @hair@; }
QPushButton[tone="card"] { text-align: left; padding: 10px; }
QToolButton { background: transparent; border: 1px solid transparent; border-radius: 5px;
  padding: 5px 8px; min-height: 20px; }
QToolButton:hover { border-color: @hair@; background: @field@; }
QToolButton:focus { border: 2px solid @accent@; padding: 4px 7px; }
QToolButton:checked { background: @accent_wash@; border-color: @accent@; color: @ink@; }
QToolButton:disabled { color: @ring_faint@; }
QToolButton::menu-indicator { image: none; }
QLineEdit, QComboBox, QPlainTextEdit, QSpinBox { background: @field@; border: 1px solid @hair@;
  border-radius: 4px; padding: 5px 7px; min-height: 20px; selection-background-color: @accent@;
  selection-color: @on_accent@; }
QLineEdit:hover, QComboBox:hover { border-color: @ring_faint@; }
QLineEdit:focus, QComboBox:focus, QPlainTextEdit:focus { border: 2px solid @accent@;
  padding: 4px 6px; }
QLineEdit[refused="true"] { border: 2px solid @mark@; padding: 4px 6px; }
QLineEdit:disabled, QComboBox:disabled { color: @ring_faint@; background: transparent; }
QComboBox::drop-down { border: none; width: 24px; }
QComboBox::down-arrow { image: none; }
QComboBox QAbstractItemView { background: @field@; border: 1px solid @hair@; padding: 3px;
  selection-background-color: @accent_wash@; selection-color: @ink@; outline: none; }
QCheckBox { spacing: 8px; min-height: 32px; }
QCheckBox:focus { color: @accent@; }
QCheckBox::indicator, QTableView::indicator { width: 16px; height: 16px; border-radius: 4px;
  border: 1px solid @ring_faint@; background: @field@; }
QCheckBox::indicator:hover, QCheckBox::indicator:focus { border-color: @accent@; }
QCheckBox::indicator:checked, QTableView::indicator:checked { background: @accent@;
  border-color: @accent@; image: url("@tick@"); }
QCheckBox::indicator:disabled { background: transparent; border-color: @hair@; }
QTabBar::tab { background: transparent; padding: 8px 16px; color: @faint@;
  border-bottom: 3px solid transparent; }
QTabBar::tab:selected { color: @ink@; border-bottom-color: @accent@; }
QTabBar::tab:hover { color: @ink@; }
QTabBar::tab:focus { color: @accent@; }
QTabWidget::pane { border: none; }
QTabBar { qproperty-drawBase: 0; }
QTableView, QListView { background: @paper@; border: none; gridline-color: @hair@; outline: none;
  selection-background-color: @accent_wash@; selection-color: @ink@; alternate-background-color:
  @field@; }
QTableView::item { padding: 2px 8px; }
QListView { padding: 2px; }
QListView::item { padding: 6px 8px; border-radius: 4px; }
QListView::item:selected { background: @accent_wash@; color: @ink@; }
QTableView:focus, QListView:focus { border: 2px solid @accent@; }
QHeaderView { background: @paper@; }
QHeaderView::section { background: @paper@; color: @faint@; border: none;
  border-bottom: 1px solid @hair@; padding: 5px 8px; font-weight: 600; }
QSplitter::handle { background: @desk@; }
QSlider::groove:horizontal { height: 4px; background: @hair@; border-radius: 2px; }
QSlider::sub-page:horizontal { background: @accent@; border-radius: 2px; }
QSlider::handle:horizontal { width: 18px; height: 18px; margin: -8px 0; border-radius: 9px;
  background: @field@; border: 2px solid @accent@; }
QSlider:focus { border: 2px solid @accent@; border-radius: 4px; }
QScrollBar:vertical { background: transparent; width: 12px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 12px; margin: 0; }
QScrollBar::handle { background: @hair@; border-radius: 4px; margin: 2px; min-height: 28px;
  min-width: 28px; }
QScrollBar::handle:hover { background: @ring_faint@; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QProgressBar { background: @hair@; border: none; border-radius: 3px; max-height: 6px; }
QProgressBar::chunk { background: @accent@; border-radius: 3px; }
QGraphicsView { border: none; background: @paper@; }
QGraphicsView:focus { border: none; }
#notice { background: @accent_wash@; border-bottom: 1px solid @hair@; }
#notice[tone="wrong"] { background: @mark_wash@; }
"""
