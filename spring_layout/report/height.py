"""The height in words: how the seat stacks up, and which springs the schools would buy for it."""

from spring_layout.checks.words import length, span
from spring_layout.deck.model import Deck
from spring_layout.planning.height_stack import free_heights_to_buy, layers_of
from spring_layout.planning.parts import Parts
from spring_layout.report.tables import paragraph


def height_section(parts: Parts) -> list[str]:
    """The stack from the floor up, then the free heights to buy."""
    deck = parts.deck
    front_rails = [i for i, side in enumerate(deck.frame.sides) if side.rail == "front"]
    rail_top = deck.frame.top_of(front_rails[0]) if front_rails else deck.frame.rail_top
    lines = ["HEIGHT", "", *paragraph(parts.told(_stack(deck)), "  ", "  "), ""]
    lines += ["  Free height to buy; the schools differ:"]
    for advice in free_heights_to_buy(parts.heights.tied_height, rail_top):
        about = f" ({span(deck, advice.least, advice.most)})" if advice.most > advice.least else ""
        usual, rule = length(deck, advice.usual), advice.rule(deck.units)
        lines += paragraph(f"{usual}{about}: {rule}; {advice.source}.", "  - ", "    ")
    return lines


def _stack(deck: Deck) -> str:
    """The layers from the bottom up with their sum where the floor is known: one sentence."""
    layers = layers_of(deck)
    named = ", ".join(f"{layer.name} {length(deck, layer.top - layer.bottom)}" for layer in layers)
    where = "in the middle" if deck.seat.measured_at == "middle" else "at the front"
    whole = layers[-1].top - layers[0].bottom
    if deck.seat.floor_to_webbing is None:
        return f"From the webbing up {where}: {named}; {length(deck, whole)} above the webbing."
    return f"From the floor up {where}: {named}; finished {length(deck, whole)} from the floor."
