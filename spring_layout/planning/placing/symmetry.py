"""The mirrors and turns that bring a frame and its springs onto themselves."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from spring_layout.geometry.outline import Outline
from spring_layout.planning.parts import Array
from spring_layout.tolerances import SAME_PLACE

Flags = NDArray[np.bool_]

FIT = 5 * SAME_PLACE
"""mm. How well an image must fit: corners and springs are on a 0.001 mm grid, mirrors are not."""


@dataclass(frozen=True, eq=False)
class Motion:
    """A mirror or turn: place p goes to ``matrix @ (p - centre) + centre``.

    ``image``: (n,) the spring onto which each spring comes.
    """

    matrix: Array
    centre: Array
    image: NDArray[np.intp]

    def moved(self, places: Array) -> Array:
        """The images of ``places`` (..., 2)."""
        return (places - self.centre) @ self.matrix.T + self.centre


def symmetries(
    outline: Outline, centres: Array, radii: Array, held: Flags, within: float = FIT
) -> tuple[Motion, ...]:
    """All mirrors and turns of the deck other than standing still; none for a lopsided one.

    A held spring must come onto a held one, a ring onto one of the same size, each spring within
    ``within`` mm.
    """
    found = []
    for matrix, centre in frame_motions(outline, centres):
        image = _spring_image(matrix, centre, centres, radii, held, within)
        if image is not None:
            found.append(Motion(matrix, centre, image))
    return tuple(found)


def nearly_symmetric(
    outline: Outline, centres: Array, radii: Array, held: Flags, within: float
) -> Array:
    """(n, 2) the places made symmetric, if all are within ``within`` mm of their mirror images.

    The very same array where there is nothing to mend, or where a held spring would have to move.
    """
    meant = symmetries(outline, centres, radii, held, within)
    exact = symmetries(outline, centres, radii, held)
    if len(meant) == len(exact):
        return centres
    total = centres.copy()
    for motion in meant:
        total += (centres[motion.image] - motion.centre) @ motion.matrix + motion.centre
    mended = total / (1 + len(meant))
    stays = np.abs(mended[held] - centres[held]).max(initial=0.0) < FIT
    kept = len(symmetries(outline, mended, radii, held)) == len(meant)
    return mended if stays and kept else centres


def frame_motions(outline: Outline, centres: Array) -> Iterator[tuple[Array, Array]]:
    """The motions (matrix, centre) of the opening alone.

    A full circle has endlessly many; of those the ones that bring the outermost of ``centres``
    onto one another, and the mirrors in x and y.
    """
    middle = _circle_centre(outline)
    if middle is None:
        yield from _corner_motions(outline)
    else:
        yield from _circle_motions(middle, centres)


def _circle_centre(outline: Outline) -> Array | None:
    if any(side.is_straight for side in outline.sides):
        return None
    centres = np.array([side.centre for side in outline.sides])
    bends = np.array([1 / side.curvature for side in outline.sides])
    same = np.ptp(centres, axis=0).max() < FIT and np.ptp(bends) < FIT
    return np.asarray(centres.mean(axis=0)) if same else None


def _corner_motions(outline: Outline) -> Iterator[tuple[Array, Array]]:
    corners = outline.corners
    middle = corners.mean(axis=0)
    bows = np.array([side.bow for side in outline.sides])
    arms = corners - middle
    forward = np.arange(len(corners))
    for turn in range(len(corners)):
        for order, sides, mirror in (
            ((forward + turn), (forward + turn), False),
            ((turn - forward), (turn - forward - 1), True),
        ):
            same = turn == 0 and not mirror
            if same or np.abs(bows - np.roll(bows, 0)[sides % len(bows)]).max() > FIT:
                continue
            matrix = _onto(arms[0], arms[order[0] % len(arms)], mirror)
            if np.abs(arms @ matrix.T - arms[order % len(arms)]).max() < FIT:
                yield matrix, middle


def _circle_motions(middle: Array, centres: Array) -> Iterator[tuple[Array, Array]]:
    yield np.diag([-1.0, 1.0]), middle
    yield np.diag([1.0, -1.0]), middle
    yield np.diag([-1.0, -1.0]), middle
    arms = centres - middle
    reach = np.hypot(arms[:, 0], arms[:, 1])
    if len(arms) == 0 or reach.max() < FIT:
        return
    outermost = arms[reach > reach.max() - FIT]
    known = [np.diag([1.0, 1.0]), np.diag([-1.0, 1.0]), np.diag([1.0, -1.0]), -np.eye(2)]
    for arm in outermost:
        for mirror in (False, True):
            matrix = _onto(outermost[0], arm, mirror)
            if all(np.abs(matrix - other).max() > 1e-9 for other in known):
                yield matrix, middle


def _onto(start: Array, end: Array, mirror: bool) -> Array:
    """The turn, or mirror, about the origin that brings direction ``start`` to ``end``."""
    one, two = math.atan2(start[1], start[0]), math.atan2(end[1], end[0])
    angle = one + two if mirror else two - one
    cos, sin = math.cos(angle), math.sin(angle)
    return np.array([[cos, sin], [sin, -cos]] if mirror else [[cos, -sin], [sin, cos]])


def _spring_image(
    matrix: Array, centre: Array, centres: Array, radii: Array, held: Flags, within: float
) -> NDArray[np.intp] | None:
    if len(centres) == 0:
        return np.empty(0, np.intp)
    images = (centres - centre) @ matrix.T + centre
    tree = shapely.STRtree(shapely.points(centres))
    nearest = np.asarray(tree.nearest(shapely.points(images)), np.intp)
    fits = np.abs(centres[nearest] - images).max() < within
    alike = (radii[nearest] == radii).all() and (held[nearest] == held).all()
    return nearest if fits and alike and len(np.unique(nearest)) == len(centres) else None


def even_moves(
    motions: tuple[Motion, ...], free: NDArray[np.intp]
) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """The moves of springs that keep the deck symmetric, as columns of a sparse matrix.

    Rows and columns of its entries and the entries: row 2 i is the x of spring i, row 2 i + 1 its
    y; only the springs ``free`` move. The columns are independent and span all such moves.
    """
    rows: list[int] = []
    columns: list[int] = []
    entries: list[float] = []
    done: set[int] = set()
    column = 0
    for spring in free:
        if int(spring) in done:
            continue
        fields = _orbit_moves(motions, int(spring))
        done.update(fields)
        for basis in _independent(fields, int(spring)):
            for number, matrix in fields.items():
                move = matrix @ basis
                rows += [2 * number, 2 * number + 1]
                columns += [column, column]
                entries += [float(move[0]), float(move[1])]
            column += 1
    return np.array(rows, np.intp), np.array(columns, np.intp), np.array(entries)


def _orbit_moves(motions: tuple[Motion, ...], spring: int) -> dict[int, Array]:
    """For each image of ``spring`` the matrix from its move to the image's move, averaged."""
    fields: dict[int, Array] = {spring: np.eye(2)}
    counts = {spring: 1}
    for motion in motions:
        image = int(motion.image[spring])
        fields[image] = fields.get(image, np.zeros((2, 2))) + motion.matrix
        counts[image] = counts.get(image, 0) + 1
    return {number: matrix / counts[number] for number, matrix in fields.items()}


def _independent(fields: dict[int, Array], spring: int) -> list[Array]:
    """The moves of ``spring`` itself that its own symmetry allows: 2, 1 or none."""
    own = fields[spring]
    values, vectors = np.linalg.eigh((own + own.T) / 2)
    return [vectors[:, i] for i in range(2) if values[i] > 0.5]
