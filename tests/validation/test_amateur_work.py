"""J. F. Adams, "A Spring Box Couch", *Amateur Work* vol. 3: 40 springs 7 1/2 in apart.

Seen: a couch of 6 ft by 28 in, ten strips with four springs each, 7 1/2 in between centres. The
ring (4 in across) and the half inch from the edge are ours; with them a gap of 3 1/2 in is 7 1/2
in between centres. That article's area for each spring (325 cm2) was seen as well.
"""

import numpy as np
import pytest

from spring_layout.planning.placing.propose import propose
from tests.placing_frames import bare_deck

INCH = 25.4


def test_a_six_foot_couch_is_offered_forty_springs_about_7_1_2_in_apart():
    layout = propose(bare_deck(72 * INCH, 28 * INCH, 4 * INCH), "seat", 3.5 * INCH, 0.5 * INCH)[0]
    assert (layout.count, layout.counts) == (40, (10, 10, 10, 10))
    places = np.array(layout.places).reshape(4, 10, 2)
    across, along = np.diff(places[:, :, 0], axis=1), np.diff(places[:, :, 1], axis=0)
    assert across / INCH == pytest.approx(np.full((4, 9), 7.5), abs=0.2)
    assert along / INCH == pytest.approx(np.full((3, 10), 7.5), abs=0.2)
    assert layout.area_per_spring / 100 == pytest.approx(325, abs=1)
