"""Prints a drawing at its true size, on the paper it was drawn for."""

from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from spring_layout.drawing.primitives import Drawing
from spring_layout.qtrender.painter_pen import paint
from spring_layout.qtrender.pdf import MM_PER_INCH, layout_for


def print_drawing(drawing: Drawing, parent: QWidget) -> bool:
    """Asks for a printer and prints; False when the user would rather not."""
    printer = printer_for(drawing)
    dialog = QPrintDialog(printer, parent)
    if dialog.exec() != QDialog.DialogCode.Accepted:
        return False
    return print_on(printer, drawing)


def printer_for(drawing: Drawing) -> QPrinter:
    """A printer set to the drawing's paper, its whole sheet, at 100 %."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setPageLayout(layout_for(drawing))
    printer.setFullPage(True)
    printer.setDocName(drawing.title)
    printer.setCreator("Spring Layout")
    return printer


def print_on(printer: QPrinter, drawing: Drawing) -> bool:
    """Prints the drawing at 1 mm to a millimetre; False where the printer refuses."""
    painter = QPainter()
    if not painter.begin(printer):
        return False
    paint(drawing, painter, printer.resolution() / MM_PER_INCH)
    return painter.end()
