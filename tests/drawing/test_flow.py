"""Blocks over pages: all of them, in order, on few pages, and none left alone."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from spring_layout.drawing.flow import Flow, flowed, white


def flow(height, leads=False, opens=False, after=0.0):
    return Flow(height, lambda place: [], leads, opens, after)


def part(*heights, head=10.0):
    """A heading and what it heads."""
    return [flow(head, leads=True, opens=True), *map(flow, heights)]


def heights(pages):
    return [[block.height for _, block in page] for page in pages]


def first_fit(blocks, room):
    """How many pages it takes to put each block, with what it leads, on a page while it fits."""
    pages, used, chain = 1, 0.0, 0.0
    for block in blocks:
        chain += block.height
        if block.leads:
            continue
        if used and used + chain > room:
            pages, used = pages + 1, 0.0
        used, chain = used + chain, 0.0
    return pages


def test_a_heading_stays_with_what_it_heads():
    blocks = [flow(50), flow(30), flow(10, leads=True, opens=True), flow(15), flow(99)]
    pages = flowed(blocks, 100)
    assert heights(pages) == [[50, 30], [10, 15], [99]]
    assert [down for down, _ in pages[1]] == [0, 10]


def test_a_block_higher_than_a_page_has_a_page_to_itself():
    assert heights(flowed([flow(20), flow(150), flow(20)], 100)) == [[20], [150], [20]]


def test_white_below_the_last_block_of_a_page_may_be_cut_off():
    blocks = [flow(60, after=5), flow(45, after=5)]
    assert heights(flowed(blocks, 100)) == [[60, 45]]
    assert len(flowed([replace(block, after=0.0) for block in blocks], 100)) == 2


def test_the_last_of_a_list_is_not_left_alone_at_the_head_of_a_page():
    blocks = part(*[20.0] * 9) + part(20.0, 21.0, 22.0)
    assert heights(flowed(blocks, 180))[1][:2] == [20, 20]


def test_a_heading_is_not_left_at_the_foot_of_a_page_with_its_first_thing_alone():
    blocks = [*part(50.0, 51.0, 52.0), *part(12.0, 13.0, 14.0, 15.0)]
    assert heights(flowed(blocks, 190)) == [[10, 50, 51, 52], [10, 12, 13, 14, 15]]


def test_the_last_page_holds_more_than_a_line():
    blocks = part(*[40.0] * 4) + part(15.0)
    assert heights(flowed(blocks, 175)) == [[10, 40, 40], [40, 40, 10, 15]]


def test_a_part_that_has_room_on_one_page_is_left_whole():
    blocks = part(30.0, 31.0, 32.0) + part(33.0, 34.0, 35.0, 36.0)
    assert heights(flowed(blocks, 170)) == [[10, 30, 31, 32], [10, 33, 34, 35, 36]]


def test_nothing_takes_one_empty_page():
    assert flowed([], 100) == [[]]


blocks_of_any_kind = st.lists(
    st.builds(flow, st.floats(1, 120), st.booleans(), st.booleans()), max_size=25
)


@given(blocks_of_any_kind, st.floats(80, 300))
def test_all_blocks_come_in_order_on_as_few_pages_as_can_be(blocks, room):
    blocks = [*blocks, flow(10)]
    pages = flowed(blocks, room)
    assert [block for page in pages for _, block in page] == blocks
    assert len(pages) == first_fit(blocks, room)
    for page in pages:
        down, last = page[-1]
        alone = sum(not block.leads for _, block in page) == 1
        assert alone or down + last.height <= room + 1e-6


def test_white_stays_with_what_follows_it():
    assert heights(flowed([flow(95), white(3), flow(20)], 100)) == [[95], [3, 20]]
