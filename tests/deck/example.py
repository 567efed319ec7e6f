"""A deck file with everything in it, as plain data that a test can spoil."""

import copy
import json
from collections.abc import Iterator
from typing import Any

Path = tuple[str | int, ...]

FULL: dict[str, Any] = {
    "format": "spring-layout-deck",
    "version": 1,
    "name": "Tollhouse settle",
    "note": "Webbed anew.\nTwo springs kept.",
    "units": "mm",
    "frame": {
        "corners": [[0, 0], [460, 0], [500, 440], [-40, 440]],
        "sides": [
            {"rail": "back", "bow": 0, "lower_rail": 105},
            {"rail": "right", "bow": 0, "nail_line": 20},
            {"rail": "front", "bow": 18, "rail_width": 60, "rail_top": 70},
            {"rail": "left", "bow": 0},
        ],
        "rail_width": 45,
        "rail_top": 75,
    },
    "coils": [
        {
            "id": "seat",
            "free_height": 152,
            "wire": 3.66,
            "turns": 6,
            "top_diameter": 92,
            "waist_diameter": 60,
            "foot_diameter": 92,
            "shape": "double-cone",
            "gauge": "SWG 9",
            "ends": "knotted-both",
        }
    ],
    "springs": [
        {"id": "s1", "coil": "seat", "x": 120, "y": 110, "held": False},
        {"id": "s2", "coil": "seat", "x": 340, "y": 110, "held": True, "turned": 30},
        {"id": "s3", "coil": "seat", "x": 120, "y": 330, "held": False},
        {"id": "s4", "coil": "seat", "x": 340, "y": 330, "held": False},
    ],
    "tying": {
        "front_to_back": True,
        "side_to_side": True,
        "diagonals": "two-or-more",
        "tied_height": 115,
        "crown": 4,
        "tied_height_back": 100,
        "order": "by-direction",
        "rim_ring": "ring-2",
        "joins": [{"run": "front-to-back", "springs": ["s3", "s1"]}],
        "parts": [{"run": "side-to-side", "springs": ["s1", "s2"]}],
        "anchors": [
            {"run": "front-to-back", "spring": "s1", "end": "finish", "side": 0, "along": 120.5}
        ],
    },
    "spacing": {"gap": 45, "clearance": 0, "limits": {"gap_most": 80, "squeeze_most": 0.4}},
    "twine": {
        "diameter": 3.5,
        "rule": "doubled-4",
        "hitch": "half",
        "tail_wraps": 3,
        "fold_back": 60,
        "return_tie": False,
        "step": 5,
        "cross_knot": "overhand",
        "ten_hitches": 520,
        "ten_cross_knots": 260,
        "allowance": 100,
        "hank": 50000,
    },
    "seat": {
        "finished_height": 450,
        "cushion": 0,
        "cushion_sink": 10,
        "over_springs": 5,
        "floor_to_webbing": 230,
        "measured_at": "middle",
        "hessian_edge": 40,
    },
    "webbing": {
        "school": "uk",
        "width": 50,
        "gap": 12,
        "fixed": "over-rails",
        "front_to_back": [100, 230],
        "side_to_side": [120.5],
        "fold": 20,
        "overlap": 30,
        "allowance": 40,
        "tacks": 9,
        "fastening": "staples",
        "foot_fixing": "clip",
    },
    "stitching": {"points": 3, "loops": 2, "twine": 2, "working_length": 1200},
    "work": {"minutes_per_spring": 9.5, "minutes_per_tie": 4},
}

REQUIRED: list[Path] = [
    ("format",),
    ("version",),
    ("name",),
    ("frame",),
    ("frame", "corners"),
    ("frame", "sides"),
    *[("frame", "sides", i, key) for i in range(4) for key in ("rail", "bow")],
    ("frame", "rail_width"),
    ("frame", "rail_top"),
    ("coils",),
    *[
        ("coils", 0, key)
        for key in (
            "id",
            "free_height",
            "wire",
            "turns",
            "top_diameter",
            "waist_diameter",
            "foot_diameter",
        )
    ],
    ("springs",),
    *[("springs", i, key) for i in range(4) for key in ("id", "coil", "x", "y", "held")],
    ("tying",),
    *[
        ("tying", key)
        for key in ("front_to_back", "side_to_side", "diagonals", "tied_height", "crown")
    ],
    *[("tying", kind, 0, key) for kind in ("joins", "parts") for key in ("run", "springs")],
    *[("tying", "anchors", 0, key) for key in ("run", "spring", "end", "side", "along")],
]


def paths(value: Any = FULL, at: Path = ()) -> Iterator[Path]:
    """The path of everything in a file, outermost first."""
    inside = value.items() if isinstance(value, dict) else enumerate(value)
    for step, inner in inside:
        yield (*at, step)
        if isinstance(inner, dict | list):
            yield from paths(inner, (*at, step))


def value_at(path: Path) -> Any:
    value: Any = FULL
    for step in path:
        value = value[step]
    return value


def spoiled(path: Path, value: Any) -> bytes:
    """The file with another value at ``path``."""
    raw, holder = _opened(path)
    holder[path[-1]] = value
    return json.dumps(raw).encode()


def without(path: Path) -> bytes:
    """The file without what stands at ``path``."""
    raw, holder = _opened(path)
    del holder[path[-1]]
    return json.dumps(raw).encode()


def _opened(path: Path) -> tuple[Any, Any]:
    raw = copy.deepcopy(FULL)
    holder: Any = raw
    for step in path[:-1]:
        holder = holder[step]
    return raw, holder


def json_path(path: Path) -> str:
    """``("springs", 3, "x")`` as ``$.springs[3].x``."""
    return "$" + "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in path)
