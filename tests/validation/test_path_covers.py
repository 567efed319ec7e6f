"""Lines over all springs as a path cover, against theory and a general graph library.

Sources: the fewest paths that share no place and cover a graph without circles are its places
less its largest matching (textbook theorem, seen at icpc.ninja, Algorithms/Graph/PathCovers); in
a transitive order that is the size of its largest antichain (R. P. Dilworth 1950; short proof by
D. R. Fulkerson 1956, note of doi 10.1155/2013/692645). The reference library is networkx
(`hopcroft_karp_matching`, `minimum_weight_full_matching`). The trap for the greedy was worked out
by hand.
"""

import random
from itertools import combinations
from types import SimpleNamespace

import networkx as nx
import numpy as np
import pytest

from spring_layout.planning.tying.cover import chains_of, cheapest_links
from spring_layout.planning.tying.links import Links

Edge = tuple[int, int]
MICRO = 1_000_000
PRICE = 1000 * MICRO
"""A price so high that the fewest lines always win."""


def task(count: int, costs: dict[Edge, float], price: int = PRICE) -> SimpleNamespace:
    """The assignment's task: ``count`` springs, the cost of each link (pitches), free ends."""
    edges = list(costs)
    first, second = np.array(edges, np.intp).reshape(-1, 2).T
    cost = np.array([round(costs[edge] * MICRO) for edge in edges], np.int64)
    blank = np.zeros(len(edges))
    links = Links(first, second, blank, cost, np.zeros((len(edges), 2)))
    return SimpleNamespace(
        count=count,
        links=links,
        link_at={edge: number for number, edge in enumerate(edges)},
        end_costs=np.zeros((count, 2), np.int64),
        price=price,
        odds=blank,
        forced=frozenset(),
    )


def cover(count: int, costs: dict[Edge, float], price: int = PRICE) -> tuple[set[Edge], list]:
    """The links chosen and the lines they make."""
    work = task(count, costs, price)
    chosen = cheapest_links(work)
    pairs = zip(work.links.first[chosen], work.links.second[chosen], strict=True)
    return {(int(a), int(b)) for a, b in pairs}, chains_of(work, chosen)


def grid(rows: int, columns: int) -> dict[Edge, float]:
    """Links to the right and down, a pitch each."""
    right = [
        (r * columns + c, r * columns + c + 1) for r in range(rows) for c in range(columns - 1)
    ]
    down = [
        (r * columns + c, (r + 1) * columns + c) for r in range(rows - 1) for c in range(columns)
    ]
    return dict.fromkeys(right + down, 1.0)


def largest_matching(count: int, edges: list[Edge]) -> int:
    graph = nx.Graph()
    graph.add_nodes_from((("from", i) for i in range(count)), bipartite=0)
    graph.add_edges_from((("from", a), ("to", b)) for a, b in edges)
    top = [("from", i) for i in range(count)]
    return len(nx.bipartite.hopcroft_karp_matching(graph, top)) // 2


@pytest.mark.parametrize(("rows", "columns", "lines"), [(3, 3, 3), (3, 4, 3), (4, 5, 4)])
def test_a_grid_is_covered_by_as_many_lines_as_its_shorter_side(
    rows: int, columns: int, lines: int
) -> None:
    edges = grid(rows, columns)
    _, chains = cover(rows * columns, edges)
    assert len(chains) == lines
    assert len(chains) == rows * columns - largest_matching(rows * columns, list(edges))
    assert sorted(spring for chain in chains for spring in chain) == list(range(rows * columns))


def random_order(dice: random.Random, count: int = 8) -> list[Edge]:
    """All pairs of a random order of ``count`` things, with what follows from them."""
    graph = nx.DiGraph()
    graph.add_nodes_from(range(count))
    graph.add_edges_from(pair for pair in combinations(range(count), 2) if dice.random() < 0.3)
    return list(nx.transitive_closure_dag(graph).edges)


def largest_antichain(count: int, edges: list[Edge]) -> int:
    """By trying every set: the most things of which none comes before another."""
    related = {frozenset(edge) for edge in edges}
    for size in range(count, 0, -1):
        for chosen in combinations(range(count), size):
            if not any(frozenset(pair) in related for pair in combinations(chosen, 2)):
                return size
    return 0


def test_two_hundred_random_orders_need_as_many_lines_as_their_largest_antichain() -> None:
    dice = random.Random(0)
    for _ in range(200):
        edges = random_order(dice)
        _, chains = cover(8, dict.fromkeys(edges, 1.0))
        assert len(chains) == largest_antichain(8, edges)


def reference_cost(count: int, costs: dict[Edge, float], price: float) -> float:
    """The least cost by networkx: every spring goes on to another, or begins a line anew.

    The library forbids pairs that cost nothing, so every pair is dearer by one.
    """
    graph = nx.Graph()
    for (a, b), cost in costs.items():
        graph.add_edge(("from", a), ("to", b), weight=cost + 1)
    for a in range(count):
        graph.add_edge(("from", a), ("end", a), weight=1 + price)
        graph.add_edge(("start", a), ("to", a), weight=1)
        for b in range(count):
            graph.add_edge(("start", b), ("end", a), weight=1)
    top = [(kind, i) for kind in ("from", "start") for i in range(count)]
    matching = nx.bipartite.minimum_weight_full_matching(graph, top)
    return sum(graph.edges[one, matching[one]]["weight"] - 1 for one in top)


@pytest.mark.parametrize("price", [0.3, 1.0, 20.0])
def test_the_cheapest_cover_costs_what_the_graph_library_finds(price: float) -> None:
    dice = random.Random(1)
    for _ in range(40):
        costs = {edge: round(dice.uniform(0.5, 3), 3) for edge in random_order(dice, 9)}
        chosen, chains = cover(9, costs, round(price * MICRO))
        cost = sum(costs[edge] for edge in chosen) + price * len(chains)
        assert cost == pytest.approx(reference_cost(9, costs, price), abs=1e-6)


TRAP = {"a": (0, 0), "b": (0, 60), "c": (100, 25), "d": (100, -60)}


def trap_links() -> dict[Edge, float]:
    """Links ahead by at most 220 mm and aside by at most 0.65 of that; lengths in mm."""
    places = list(TRAP.values())
    return {
        (i, k): float(np.hypot(bx - ax, by - ay))
        for i, (ax, ay) in enumerate(places)
        for k, (bx, by) in enumerate(places)
        if 0 < bx - ax <= 220 and abs(by - ay) <= 0.65 * (bx - ax)
    }


def test_the_shortest_link_first_leads_into_a_trap_that_the_cover_avoids() -> None:
    """Worked by hand: a-d and b-c, 222.567 mm; shortest first takes a-c and strands b and d."""
    lengths = trap_links()
    chosen, chains = cover(4, lengths)
    assert {"".join("abcd"[s] for s in chain) for chain in chains} == {"ad", "bc"}
    assert sum(lengths[edge] for edge in chosen) == pytest.approx(222.567, abs=1e-3)
    assert greedy_lines(4, lengths) == 3


def greedy_lines(count: int, lengths: dict[Edge, float]) -> int:
    taken: set[Edge] = set()
    for a, b in sorted(lengths, key=lengths.__getitem__):
        if all(a != first and b != second for first, second in taken):
            taken.add((a, b))
    return count - len(taken)
