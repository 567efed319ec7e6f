"""Prints drawings at their true size, each on the paper it was drawn for, in as many copies."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QProgressDialog, QWidget

from spring_layout.drawing.primitives import Drawing
from spring_layout.qtrender.painter_pen import paint
from spring_layout.qtrender.pdf import MM_PER_INCH, layout_for, title_of

PATIENCE = 500
"""ms before it is told how far the printing is."""


def print_drawings(drawings: Sequence[Drawing], parent: QWidget) -> str:
    """Asks for a printer and prints; gives what to tell the user, or nothing to tell."""
    printer = printer_for(drawings)
    dialog = QPrintDialog(printer, parent)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return ""
    progress = QProgressDialog("Printing…", "Stop", 0, len(drawings), parent)
    progress.setWindowModality(Qt.WindowModality.WindowModal)
    progress.setMinimumDuration(PATIENCE)

    def told(page: int) -> bool:
        progress.setValue(page)
        return not progress.wasCanceled()

    done = print_on(printer, drawings, told)
    stopped = progress.wasCanceled()
    progress.close()
    progress.deleteLater()
    if stopped:
        return "Printing is stopped; what the printer already has may still come out."
    return "Sent to the printer." if done else "The printer did not take it; is it on and ready?"


def printer_for(drawings: Sequence[Drawing]) -> QPrinter:
    """A printer set to the first drawing's paper, its whole sheet, at 100 %."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageLayout(layout_for(drawings[0]))
    printer.setFullPage(True)
    # the name of the file where somebody prints into one; a colon may stand in none on Windows
    printer.setDocName(title_of(drawings).replace(": ", ", "))
    printer.setCreator("Spring Layout")
    return printer


def print_on(
    printer: QPrinter,
    drawings: Sequence[Drawing],
    told: Callable[[int], bool] = lambda _: True,
) -> bool:
    """Prints the drawings, 1 mm to a millimetre; False where it is refused or stopped.

    ``told`` hears how many pages are done and says whether to go on.
    """
    painter = QPainter()
    if not painter.begin(printer):
        return False
    try:
        for page, drawing in enumerate(drawings):
            if not told(page):
                printer.abort()
                return False
            if page:
                printer.setPageLayout(layout_for(drawing))
                printer.newPage()
            paint(drawing, painter, printer.resolution() / MM_PER_INCH)
        return painter.end()
    finally:
        if painter.isActive():
            painter.end()
