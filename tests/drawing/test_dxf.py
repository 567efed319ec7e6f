"""The DXF file, read back with ezdxf: layers, true arcs, places with y turned over."""

import io
import math
import sys

import ezdxf
import pytest
from ezdxf.audit import Auditor

from spring_layout.drawing.dxf import LAYERS, DxfError, dxf_bytes
from spring_layout.plan import make_plan
from tests.decks import grid_deck
from tests.drawing.samples import NAMES, plan_of


def read(plan):
    return ezdxf.read(io.StringIO(dxf_bytes(plan.parts).decode("utf-8")))


def on_layer(document, layer, kind):
    return document.modelspace().query(f'{kind}[layer=="{layer}"]')


@pytest.mark.parametrize("name", NAMES)
def test_every_sample_gives_a_sound_file_with_its_springs_and_tack_points(name):
    plan = plan_of(name)
    document = read(plan)
    auditor = document.audit()
    assert isinstance(auditor, Auditor)
    assert auditor.errors == []
    assert document.units == ezdxf.units.MM
    centres = {(c.dxf.center.x, c.dxf.center.y) for c in on_layer(document, "CENTRES", "CIRCLE")}
    assert centres == {(s.x, -s.y) for s in plan.deck.springs}
    tacks = sum(a is not None for line in plan.parts.ties.lines for a in line.anchors)
    assert len(on_layer(document, "TACK_POINTS", "CIRCLE")) == tacks
    assert len(on_layer(document, "TIES", "LWPOLYLINE")) == len(plan.parts.ties.lines)
    assert {entity.dxf.layer for entity in document.modelspace()} <= LAYERS.keys()


@pytest.mark.parametrize("name", NAMES)
def test_the_inside_edge_closes_corner_to_corner(name):
    plan = plan_of(name)
    document = read(plan)
    ends = []
    for line in on_layer(document, "INSIDE_EDGE", "LINE"):
        ends += [(line.dxf.start.x, line.dxf.start.y), (line.dxf.end.x, line.dxf.end.y)]
    for arc in on_layer(document, "INSIDE_EDGE", "ARC"):
        ends += [(arc.start_point.x, arc.start_point.y), (arc.end_point.x, arc.end_point.y)]
    corners = [(x, -y) for x, y in plan.deck.frame.corners]
    for corner in corners:
        assert sum(math.dist(corner, end) < 0.001 for end in ends) == 2


def test_a_bowed_front_is_a_true_arc_through_the_top_of_its_bow():
    plan = plan_of("bow-fronted-easy-chair")
    (arc,) = on_layer(read(plan), "INSIDE_EDGE", "ARC")
    front = plan.parts.standing.outline.sides[2]
    x, y = front.point(front.length / 2)
    assert math.dist((arc.dxf.center.x, arc.dxf.center.y), (x, -y)) == pytest.approx(arc.dxf.radius)
    middle = math.degrees(math.atan2(-y - arc.dxf.center.y, x - arc.dxf.center.x)) % 360
    first, last = arc.dxf.start_angle % 360, arc.dxf.end_angle % 360
    assert (middle - first) % 360 < (last - first) % 360


def test_the_same_plan_gives_the_same_file():
    plan = make_plan(grid_deck())
    assert dxf_bytes(plan.parts) == dxf_bytes(plan.parts)
    assert dxf_bytes(plan.parts) != dxf_bytes(make_plan(grid_deck(pitch=150)).parts)


def test_without_ezdxf_it_says_what_to_install(monkeypatch):
    for name in [n for n in sys.modules if n.split(".")[0] == "ezdxf"]:
        monkeypatch.setitem(sys.modules, name, None)
    with pytest.raises(DxfError, match=r"pip install '\.\[dxf\]'"):
        dxf_bytes(make_plan(grid_deck(2, 2)).parts)
