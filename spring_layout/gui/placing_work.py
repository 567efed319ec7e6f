"""What the helper process works out about places: layouts to choose from, even spacing."""

from collections.abc import Callable

from spring_layout.deck.model import Deck, Point
from spring_layout.planning.placing.even import even_out_steps
from spring_layout.planning.placing.keep import Constraints, rows_of_ties
from spring_layout.planning.placing.layouts import Layout
from spring_layout.planning.placing.propose import propose
from spring_layout.planning.standing import standing_of
from spring_layout.planning.tying import ties_of

MEANT_ALIKE = 12.0
"""mm; springs this near to a mirror image are meant to stand in it: one that was dragged a little,
or pushed by one large step of 10 mm, is not set apart on purpose. (With 5 mm a bowed chair with
one spring dragged by 8 mm came out lopsided by 10 mm.)"""

Places = dict[str, Point]


def layouts_for(
    tell: Callable[[tuple[int, int]], None], deck: Deck, coil: str
) -> tuple[Layout, ...]:
    """Layouts of springs of size ``coil``; tells how many are tried of how many."""

    def go_on(done: int, of: int) -> bool:
        tell((done, of))
        return True

    return propose(deck, coil, go_on=go_on)


def evenly_spaced(tell: Callable[[Places], None], deck: Deck) -> Places:
    """The springs of ``deck`` spaced evenly; tells the places on the way there.

    Rows and columns, as the ties run, stay so; no spring passes a neighbour, a deck that is nearly
    alike on both sides becomes so; springs that are kept stay.
    """
    standing = standing_of(deck)
    rows = rows_of_ties(standing, ties_of(standing).lines)
    constraints = Constraints(rows=rows, order=True, symmetry=MEANT_ALIKE)
    places: Places = {}
    for centres in even_out_steps(standing, constraints=constraints):
        places = {
            name: (float(x), float(y)) for name, (x, y) in zip(standing.ids, centres, strict=True)
        }
        tell(places)
    return places
