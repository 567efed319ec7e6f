"""The height stack as a picture: floor, webbing, tied spring, stuffing, cushion, with its numbers.

Everything is to one scale, the largest that ``room`` allows. Layers too thin for their number have
it beside them with a leader. The part that follows from the others stands bold after an equals
sign, in the accent's colour.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from spring_layout.deck.model import Deck
from spring_layout.drawing import lettering, look
from spring_layout.drawing.primitives import (
    Drawing,
    Group,
    Item,
    Path,
    Step,
    Stroke,
    Tag,
    Text,
    polyline,
    rectangle,
)
from spring_layout.drawing.side_view_coil import Upright, coil_items
from spring_layout.drawing.side_view_labels import measured
from spring_layout.drawing.side_view_look import LIGHT, SideColours
from spring_layout.drawing.spread import spread_between
from spring_layout.planning.coil_shape import rings_of
from spring_layout.planning.height_stack import Layer, StackPart, layers_of, measured_tied_height
from spring_layout.planning.heights import typical_coil
from spring_layout.units import format_length
from spring_layout.words import US, Words

PARTS: dict[str, StackPart] = {
    "floor to webbing": "floor_to_webbing",
    "tied height": "tied_height",
    "over the springs": "over_springs",
    "cushion": "cushion",
}
"""Each layer of the stack and the part of the deck that it stands for."""

_LEAST_ROOM = (60.0, 50.0)
_LEFT = 25.0
"""mm for the layers' names and numbers at the left."""
_PAD = 3.5
_LABEL = look.SMALL + 1.3 + look.NORMAL
"""mm, a layer's name over its number."""
_BROKEN = 60.0
"""mm of the legs that are drawn where the floor is not known."""
_RAIL_DEPTH = 75.0
"""mm; how deep a rail is drawn that has no height above the webbing. Drawn, not computed."""


@dataclass(frozen=True)
class _Stand:
    """The picture set out: where the paper's middle strip lies, and the view of it."""

    view: Upright
    left: float
    right: float

    def band(self, bottom: float, top: float, inset: float = 0.0) -> tuple[float, ...]:
        """x, y, width, height of a band across the picture, mm on paper."""
        low, high = self.view.place(0.0, bottom)[1], self.view.place(0.0, top)[1]
        return (self.left + inset, high, self.right - self.left - 2 * inset, low - high)


def stack_view(
    deck: Deck,
    room: tuple[float, float],
    colours: SideColours = LIGHT,
    follows: StackPart | None = None,
    words: Words = US,
) -> Drawing:
    """The stack of ``deck`` where its height is measured, in a picture of ``room`` mm.

    It is told in ``words``, none of which is longer here than the American one.
    """
    width, height = max(room[0], _LEAST_ROOM[0]), max(room[1], _LEAST_ROOM[1])
    layers = layers_of(deck)
    stand = _stand(deck, layers, width, height)
    ground = Path(rectangle(0, 0, width, height), fill=colours.paper)
    groups = {
        "frame": _frame(deck, stand, colours),
        "soft": _soft(layers, stand, colours),
        "springs": _springs(deck, stand, colours),
        "labels": [
            _retold(item, words)
            for item in (
                *_layer_labels(deck, layers, stand, height, colours, follows),
                *_whole(deck, layers, stand, colours, follows),
            )
        ],
    }
    items: tuple[Item, ...] = (
        ground,
        *(Group(tuple(items), Tag(id=name)) for name, items in groups.items()),
    )
    told = words.retold(stack_words(deck))
    return Drawing(width, height, "Height of the seat", told, items)


def _retold(item: Item, words: Words) -> Item:
    return replace(item, words=words.retold(item.words)) if isinstance(item, Text) else item


def stack_words(deck: Deck) -> str:
    """The stack in one sentence, from the bottom up, for those who have it read out."""
    layers = layers_of(deck)
    told = ", ".join(f"{layer.name} {_length(deck, _thick(layer))}" for layer in layers)
    return f"From the bottom up: {told}; {_whole_words(deck, layers)}."


def _length(deck: Deck, mm: float) -> str:
    return format_length(mm, deck.units, "exact")  # as it was typed


def _thick(layer: Layer) -> float:
    return layer.top - layer.bottom


def _stand(deck: Deck, layers: tuple[Layer, ...], width: float, height: float) -> _Stand:
    low = layers[0].bottom if deck.seat.floor_to_webbing is not None else -_BROKEN
    high = max(layers[-1].top, deck.frame.rail_top)
    scale = max(high - low, 1.0) / (height - 2 * _PAD - 1.5)
    left, right = _LEFT, width - _right_room(deck, layers)
    coil = typical_coil(deck)
    if coil is not None:  # a low stack must not draw a spring wider than the picture
        scale = max(scale, coil.top_diameter * 1.5 / (right - left))
    middle = (left + right) / 2
    return _Stand(Upright(scale, middle, height - _PAD - 1.5 + low / scale), left, right)


def _right_room(deck: Deck, layers: tuple[Layer, ...]) -> float:
    """What the whole height takes at the right, mm on paper."""
    number = lettering.width(f"= {_whole_length(deck, layers)}", look.NORMAL, "bold")
    words = max(lettering.width(line, look.SMALL) for line in _whole_lines(deck))
    return 3.0 + 1.6 + max(number, words) + 1.2


# the picture --------------------------------------------------------------------------------------


def _frame(deck: Deck, stand: _Stand, colours: SideColours) -> list[Item]:
    """Legs, rails, webbing and, where it is known, the floor."""
    seat, view = deck.seat, stand.view
    low = -_BROKEN if seat.floor_to_webbing is None else -seat.floor_to_webbing
    rail = min(view.length(deck.frame.rail_width), (stand.right - stand.left) * 0.16)
    edge = Stroke(colours.wood_edge, 0.3)
    items: list[Item] = []
    for x in (stand.left, stand.right - rail):
        leg = (rail - rail * 0.62) / 2
        _, top, _, deep = stand.band(low, 0.0)
        items.append(Path(rectangle(x + leg, top, rail * 0.62, deep), edge, colours.wood))
        rail_top = deck.frame.rail_top
        _, top, _, deep = stand.band(min(0.0, rail_top - _RAIL_DEPTH), rail_top)
        items.append(Path(rectangle(x, top, rail, deep), edge, colours.wood))
    base = view.place(0.0, 0.0)[1]
    web = polyline(((stand.left + rail / 2, base + 0.45), (stand.right - rail / 2, base + 0.45)))
    items += [Path(web, Stroke(colours.jute_edge, 0.9)), Path(web, Stroke(colours.jute, 0.6))]
    known = seat.floor_to_webbing is not None
    return items + (_floor(stand, low, colours) if known else _broken(stand, colours))


def _floor(stand: _Stand, low: float, colours: SideColours) -> list[Item]:
    y = stand.view.place(0.0, low)[1]
    hatch = [
        step
        for i in range(int((stand.right - stand.left) / 2.2))
        for step in polyline(((stand.left + 2.2 * i + 1.2, y), (stand.left + 2.2 * i, y + 1.3)))
    ]
    line = polyline(((stand.left - 2.0, y), (stand.right + 2.0, y)))
    return [Path(tuple(hatch), Stroke(colours.soft, 0.15)), Path(line, Stroke(colours.ink, 0.4))]


def _broken(stand: _Stand, colours: SideColours) -> list[Item]:
    """A line that says that the legs go on: the floor is not known."""
    y = stand.view.place(0.0, -_BROKEN)[1]
    wave = Stroke(colours.paper, 1.6)
    count = int((stand.right - stand.left + 4) / 3)
    places = [(stand.left - 2 + 3 * i, y + (0.7 if i % 2 else -0.7)) for i in range(count + 1)]
    return [Path(polyline(places), wave), Path(polyline(places), Stroke(colours.soft, 0.2))]


def _soft(layers: tuple[Layer, ...], stand: _Stand, colours: SideColours) -> list[Item]:
    """What lies over the springs, and the cushion."""
    fills = {"over the springs": colours.jute, "cushion": colours.soft_fill}
    items: list[Item] = []
    for layer in layers:
        if layer.name in fills:
            x, y, wide, deep = stand.band(layer.bottom, layer.top, inset=1.0)
            steps = _pillow(x, y, wide, deep)
            edge = Stroke(colours.jute_edge, 0.3)
            items.append(Path(steps, edge, fills[layer.name], Tag(kind="layer", title=layer.name)))
    return items


def _pillow(x: float, y: float, wide: float, deep: float) -> tuple[Step, ...]:
    """A rectangle with its corners taken off, as soft things have none."""
    cut = min(deep / 2, 2.0)
    return polyline(
        (
            (x + cut, y),
            (x + wide - cut, y),
            (x + wide - cut * 0.3, y + cut * 0.3),
            (x + wide, y + cut),
            (x + wide, y + deep - cut),
            (x + wide - cut * 0.3, y + deep - cut * 0.3),
            (x + wide - cut, y + deep),
            (x + cut, y + deep),
            (x + cut * 0.3, y + deep - cut * 0.3),
            (x, y + deep - cut),
            (x, y + cut),
            (x + cut * 0.3, y + cut * 0.3),
        ),
        closed=True,
    )


def _springs(deck: Deck, stand: _Stand, colours: SideColours) -> list[Item]:
    """As many springs as there is room for, of the size that most are, tied down."""
    coil, tied = typical_coil(deck), measured_tied_height(deck)
    if coil is None or tied <= 0:
        return []
    rail = stand.view.length(deck.frame.rail_width)
    free = stand.right - stand.left - 2 * min(rail, (stand.right - stand.left) * 0.16)
    pitch = stand.view.length(coil.top_diameter + max(deck.spacing.gap, 10.0))
    count = max(1, min(3, int(free / pitch)))
    rings = rings_of(coil, tied)
    return [
        coil_items(
            rings,
            coil.wire,
            (i - (count - 1) / 2) * pitch * stand.view.scale,
            stand.view,
            colours,
            tag=Tag(kind="spring", title="Spring, tied down"),
        )
        for i in range(count)
    ]


# the numbers --------------------------------------------------------------------------------------


def _layer_labels(
    deck: Deck,
    layers: tuple[Layer, ...],
    stand: _Stand,
    height: float,
    colours: SideColours,
    follows: StackPart | None,
) -> Iterable[Item]:
    """Each layer measured at the left, its name and number beside, none upon another."""
    x, fine = stand.left - 3.0, Stroke(colours.soft, 0.13)
    tops = [stand.view.place(0.0, layer.top)[1] for layer in layers]
    lows = [stand.view.place(0.0, layer.bottom)[1] for layer in layers]
    order = sorted(range(len(layers)), key=lambda i: tops[i] + lows[i])
    middles = [(tops[i] + lows[i]) / 2 for i in order]
    places = spread_between(middles, [_LABEL] * len(order), 1.2, 0.5, height - 0.5) or middles
    for i, middle, y in zip(order, middles, places, strict=True):
        mine = follows == PARTS[layers[i].name]
        colour = colours.accent if mine else colours.soft
        yield from measured((x, lows[i]), (x, tops[i]), colour)
        for end in (lows[i], tops[i]):
            yield Path(polyline(((x - 0.9, end), (stand.left + 0.6, end))), fine)
        if abs(y - middle) > 0.6:
            yield Path(polyline(((x - 0.6, middle), (x - 2.2, y))), Stroke(colour, 0.13))
        yield from _named(x - 2.6, y, layers[i], deck, colours, mine)


def _named(
    x: float, y: float, layer: Layer, deck: Deck, colours: SideColours, mine: bool
) -> list[Text]:
    return [
        lettering.lettered(
            (x, y - _LABEL / 2 + look.SMALL),
            layer.name,
            look.SMALL,
            colours.accent if mine else colours.soft,
            anchor="end",
            tag=Tag(kind="layer-name"),
        ),
        lettering.lettered(
            (x, y + _LABEL / 2),
            f"= {_length(deck, _thick(layer))}" if mine else _length(deck, _thick(layer)),
            look.NORMAL,
            colours.accent if mine else colours.ink,
            anchor="end",
            weight="bold" if mine else "regular",
            tag=Tag(kind="layer-height"),
        ),
    ]


def _whole_length(deck: Deck, layers: tuple[Layer, ...]) -> str:
    return _length(deck, layers[-1].top - layers[0].bottom)


def _whole_lines(deck: Deck) -> list[str]:
    return ["above the", "webbing"] if deck.seat.floor_to_webbing is None else ["finished"]


def _whole_words(deck: Deck, layers: tuple[Layer, ...]) -> str:
    whole = _whole_length(deck, layers)
    if deck.seat.floor_to_webbing is None:
        return f"{whole} above the webbing"
    return f"finished {whole} from the floor"


def _whole(
    deck: Deck,
    layers: tuple[Layer, ...],
    stand: _Stand,
    colours: SideColours,
    follows: StackPart | None,
) -> Iterable[Item]:
    """The whole height at the right."""
    x = stand.right + 3.0
    low, high = (stand.view.place(0.0, z)[1] for z in (layers[0].bottom, layers[-1].top))
    mine = follows == "finished_height"
    colour = colours.accent if mine else colours.ink
    yield from measured((x, low), (x, high), colour)
    for end in (low, high):
        yield Path(polyline(((stand.right - 0.6, end), (x + 0.9, end))), Stroke(colours.soft, 0.13))
    lines, number = _whole_lines(deck), _whole_length(deck, layers)
    y = (low + high) / 2
    for i, words in enumerate(lines):
        place = (x + 1.6, y - 1.0 - (len(lines) - 1 - i) * 3.0)
        yield lettering.lettered(place, words, look.SMALL, colour, tag=Tag(kind="layer-name"))
    yield lettering.lettered(
        (x + 1.6, y + look.NORMAL + 0.3),
        f"= {number}" if mine else number,
        look.NORMAL,
        colour,
        weight="bold",
        tag=Tag(kind="layer-height"),
    )
