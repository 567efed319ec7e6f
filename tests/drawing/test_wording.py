"""Numbers on paper as they are read aloud."""

import numpy as np
import pytest

from spring_layout.drawing.wording import number_rows, range_words
from tests.drawing.samples import plan_of


@pytest.mark.parametrize(
    ("gaps", "words"),
    [
        ([31.0, 31.2], "31 mm"),
        ([46.0, 53.0], "46 to 53 mm"),
        ([-4.0, 70.0], "70 mm at most; some overlap by 4 mm"),
        ([-12.0, -3.0], "some overlap by 12 mm"),
        ([-0.2, 20.0], "0 to 20 mm"),
    ],
)
def test_a_range_has_no_number_below_nothing(gaps, words):
    assert range_words(np.array(gaps), "mm", "some overlap by") == words


def test_springs_that_overlap_are_told_so_on_paper():
    rows = dict(number_rows(plan_of("deliberate-faults").parts))
    assert rows["Gaps"] == "70 mm at most; some overlap by 4 mm"
