"""Shortest sewing-in routes by two methods that share nothing with the program's own."""

from itertools import pairwise, permutations, product

import numpy as np
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import lil_array

from spring_layout.planning.stitching_ways import Ways


def shortest_by_trying_all(ways: Ways) -> float:
    """Every order of the feet, every order of their stitches."""
    inner = list(permutations(range(ways.stitches)))
    best = np.inf
    for feet in permutations(range(ways.feet)):
        for orders in product(inner, repeat=ways.feet):
            places = [
                ways.points[f, i] for f, order in zip(feet, orders, strict=True) for i in order
            ]
            best = min(best, float(sum(np.hypot(*(a - b)) for a, b in pairwise(places))))
    return best


def shortest_by_whole_table(ways: Ways) -> float:
    """Over every set of feet sewn and every stitch left, in plain loops, from the first foot on."""
    n, m = ways.feet, ways.stitches
    best = {
        (1 << f, f, x): min(ways.within[f, e, x] for e in range(m))
        for f in range(n)
        for x in range(m)
    }
    for sewn in range(1, 1 << n):
        for f, x in product(range(n), range(m)):
            before = best.get((sewn, f, x))
            for g in range(n) if before is not None else ():
                if not sewn >> g & 1:
                    for e, y in product(range(m), range(m)):
                        state = (sewn | 1 << g, g, y)
                        reach = before + ways.between[f, x, g, e] + ways.within[g, e, y]
                        best[state] = min(best.get(state, np.inf), reach)
    return min(best[(1 << n) - 1, f, x] for f in range(n) for x in range(m))


def shortest_by_whole_numbers(ways: Ways, closed: bool = False) -> float:
    """Each possible step is a whole number, 0 or 1; round trips that leave some out are cut off.

    Every stitch has two steps, every foot one step fewer inside it than stitches; an open route is
    closed over one more place, a step of no length away from all.
    """
    count = ways.feet * ways.stitches
    foot = np.repeat(np.arange(ways.feet), ways.stitches)
    flat = ways.points.reshape(-1, 2)
    total = count if closed else count + 1
    pairs = [(i, j) for i in range(total) for j in range(i + 1, total)]
    cost = [0.0 if j == count else float(np.hypot(*(flat[i] - flat[j]))) for i, j in pairs]
    rows, lower, upper = [], [], []
    for place in range(total):
        rows.append([k for k, pair in enumerate(pairs) if place in pair])
        lower.append(2), upper.append(2)
    for f in range(ways.feet):
        inside = [k for k, (i, j) in enumerate(pairs) if j < count and foot[i] == foot[j] == f]
        rows.append(inside)
        lower.append(ways.stitches - 1), upper.append(ways.stitches - 1)
    while True:
        chosen, length = _solved(cost, rows, lower, upper)
        parts = _parts([pairs[k] for k in chosen], total)
        if len(parts) == 1:
            return length
        for part in parts:
            rows.append([k for k, (i, j) in enumerate(pairs) if i in part and j in part])
            lower.append(0), upper.append(len(part) - 1)


def _solved(cost, rows, lower, upper):
    matrix = lil_array((len(rows), len(cost)))
    for r, columns in enumerate(rows):
        matrix[r, columns] = 1
    found = milp(
        cost,
        integrality=np.ones(len(cost)),
        bounds=(0, 1),
        constraints=LinearConstraint(matrix.tocsr(), lower, upper),
        options={"mip_rel_gap": 0},
    )
    assert found.success, found.message
    return np.flatnonzero(found.x > 0.5), float(found.fun)


def _parts(pairs, total):
    """The sets of places that the chosen steps hold together."""
    parts = [{i} for i in range(total)]
    for i, j in pairs:
        with_i, with_j = (next(p for p in parts if k in p) for k in (i, j))
        if with_i is not with_j:
            with_i |= with_j
            parts.remove(with_j)
    return parts
