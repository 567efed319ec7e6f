"""One page of help: the work in its order, the keys, the cautions."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QTextBrowser, QVBoxLayout, QWidget

from spring_layout import __version__
from spring_layout.gui.words import Words

_WORK = (
    (
        "Frame",
        "Begin from measurements taken inside the rails, or trace the opening corner by corner. "
        "Drag a corner to move it and a side's middle to bow it; double-click a side to insert a "
        "corner. Say of each side which rail it is; a side without a rail takes no tacks.",
    ),
    (
        "Height",
        "Set any parts of the seat's height; the one you choose follows from the rest. Below stand "
        "the schools' free heights, and what comes out with the springs you have. Drag across the "
        "deck to see it cut there from the side.",
    ),
    (
        "Springs",
        "Suggest layouts shows two to four ways to fill the frame. Click to set a spring, drag to "
        "move it: gaps and distances stand beside it, and it settles in line, on the middle, where "
        "gaps become equal or over the {webbing}, and says which. Space evenly evens them all; "
        "a spring that is kept stays where it is.",
    ),
    (
        "Base",
        "The {webbing} is laid under the springs. Drag a strip to move it, or type its place. The "
        "stitches of the feet are numbered in the order they are sewn; a square marks where a new "
        "length of twine begins.",
    ),
    (
        "{Ties}",
        "Every {tie} is worked out while springs move. Point at one to read it, click to pick it, "
        "drag its tack point along the rail. Join two springs by dragging from one to the other; "
        "part them by a click on the {tie} between them. The slider shows one {tie} after another "
        "in the order they are tied. A picked {tie} shows its side view and what its twine is "
        "made up of.",
    ),
    (
        "Paper",
        "Every sheet as it will print, page by page: the {tie_diagram} to tape to the frame, the "
        "bench sheet with what to cut and to tick off, the full-size template to lay on the "
        "{webbing}, the strips to lay along the rails, the {ties} step by step, the side view, "
        "and the record to staple under the bottom cloth. Print full-size sheets at 100 % and "
        "measure the bars on them; if your printer is off, write down what they measured.",
    ),
)

_KEYS = (
    ("Wheel, or Ctrl + and Ctrl −", "look closer, look from farther away"),
    ("Space and drag, or the middle button", "move the deck under the glass"),
    ("F", "the whole frame"),
    ("F11", "the deck fills the window"),
    ("Alt + 1 to Alt + 6", "frame, height, springs, base, {ties}, paper"),
    ("[ and ]", "the spring, corner, strip or {tie} before, and the next"),
    ("Arrows; with Shift ten times as far", "nudge what is picked: 1/16 in or 1 mm"),
    ("Alt while dragging", "nothing settles"),
    ("Ctrl + Shift + 2", "the table of springs: places can be typed there"),
    ("Ctrl + Shift + 4", "the side view"),
    ("Ctrl + Shift + 5", "the table of the {webbing}: places can be typed there too"),
    ("Esc", "drop what is in hand; nothing happened"),
    ("Ctrl + Z", "one step back, or one traced corner; everything undoes"),
)

_CAUTIONS = (
    "Wear eye protection while compressing, tying or cutting springs: a spring or a tack can let "
    "go. Keep your hands out from under a loaded spring.",
    "Wear gloves for pulling twine, and a dust mask for old fillings; treat old paint as if it "
    "held lead.",
    "Fire-safety rules for re-upholstery differ by country (UK: SI 1988/1324 as amended, incl. "
    "SI 2025/531; US: 16 CFR 1640). Local codes and a qualified upholsterer come first. This is a "
    "pointer, not legal advice.",
    "Lengths of twine are estimates from the geometry. Cut one piece, tie it, and compare before "
    "you cut the rest.",
)


def help_html(words: Words) -> str:
    """The page, in the words of one side of the Atlantic."""
    work = "".join(f"<h3>{title}</h3><p>{text}</p>" for title, text in _WORK)
    rows = "".join(
        f"<tr><td><b>{key}</b></td><td>&nbsp;&nbsp;&nbsp;{what}</td></tr>" for key, what in _KEYS
    )
    cautions = "".join(f"<li>{text}</li>" for text in _CAUTIONS)
    page = (
        "<h2>How it works</h2><p>The column at the left is the work in its order; any order "
        "works. A filled knot beside a stage means that its checks are clear, a number how many "
        f"are not.</p>{work}<h3>Keys</h3><table>{rows}</table>"
        f"<h3>Take care</h3><ul>{cautions}</ul>"
    )
    return words.fill(page)


class HelpPage(QDialog):
    """The page in a window of its own, which may stay open beside the work."""

    def __init__(self, words: Words, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("How it works")
        self.text = QTextBrowser()
        self.text.setHtml(help_html(words))
        self.text.document().setDocumentMargin(16)
        self.text.setAccessibleName("Help")
        answers = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        answers.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self.text)
        column.addWidget(answers)
        column.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
        self.resize(640, 720)


def about_words() -> str:
    """Version, licence, font."""
    return (
        f"Spring Layout {__version__}: lay out and tie the coil springs of a hand-sprung seat. "
        "MIT licence. Lettering: Barlow Semi Condensed, SIL Open Font License."
    )
