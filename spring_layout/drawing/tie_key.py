"""The key to the ties in a sheet's margin: each run's dash and, where asked for, what to cut.

The lengths stand under their run, each behind the number of its tie.
"""

from spring_layout.deck.model import Run
from spring_layout.drawing import lettering, look
from spring_layout.drawing.blocks import Block, Setting, heading, line_sample, written
from spring_layout.drawing.primitives import Item, Place
from spring_layout.drawing.wording import runs_present
from spring_layout.plan import Plan
from spring_layout.units import format_length

_SAMPLE, _TAB = 11.0, 16.0
_AFTER = 1.1
"""mm between a tie's number and its length."""
_BETWEEN = 3.6
"""mm between two lengths of a row at least."""
_AFTER_CUTS = 0.9
"""mm more than usual between a run's lengths and the next run."""
Cut = tuple[str, str]
"""A tie's number and its length, in words."""


def tie_key(plan: Plan, setting: Setting, room: float, cuts: bool) -> list[Block]:
    """The key, ``room`` mm wide, with what to cut for each if ``cuts``; none without ties."""
    runs = runs_present(plan.parts)
    if not runs:
        return []
    told = {run: _cuts(plan, run) if cuts else [] for run in runs}
    grid = _Grid([cut for run in runs for cut in told[run]], setting, room)
    tops, y = list[float](), setting.head
    for run in runs:
        tops.append(y)
        rows = grid.rows(told[run])
        y += setting.under + (rows - 1) * setting.line + _AFTER_CUTS if rows else 0.0
        y += setting.key
    height = y - setting.key + setting.body - (_AFTER_CUTS if cuts else 0.0)

    def draw(place: Place) -> list[Item]:
        x, y = place
        items: list[Item] = [heading(place, plan.parts.told(_head(plan) if cuts else "Ties"))]
        for run, top in zip(runs, tops, strict=True):
            run_look = look.RUN_LOOKS[run]
            middle = x + _TAB / 2 - 1.5, y + top + setting.body / 2
            items += line_sample(run_look.stroke, _SAMPLE)(middle)
            items.append(written((x + _TAB, y + top), run_look.words, setting.body))
            items += grid.draw((x, y + top + setting.under), told[run])
        return items

    return [Block("key", height, draw)]


def _head(plan: Plan) -> str:
    unit = "inches" if plan.deck.units == "in" else "mm"
    return f"Ties, and what to cut for each ({unit})"


def _cuts(plan: Plan, run: Run) -> list[Cut]:
    """The ties of a run and what to cut for each, in tying order."""
    units = plan.deck.units
    return [
        (str(line.number), format_length(twine.cut_length, units, "cut", unit=False))
        for line, twine in zip(plan.parts.ties.lines, plan.parts.twine.lines, strict=True)
        if line.run == run
    ]


class _Grid:
    """Numbers and lengths in even columns as wide as the widest need."""

    def __init__(self, cuts: list[Cut], setting: Setting, room: float) -> None:
        self.setting = setting
        body = setting.body
        self.first = max((lettering.width(n, body, "bold") for n, _ in cuts), default=0.0)
        long = max((lettering.width(cut, body) for _, cut in cuts), default=0.0)
        wide = self.first + _AFTER + long
        self.columns = max(1, int((room + _BETWEEN) // (wide + _BETWEEN)))
        self.step = (room - wide) / max(self.columns - 1, 1)

    def rows(self, cuts: list[Cut]) -> int:
        """How many rows these take."""
        return -(-len(cuts) // self.columns)

    def draw(self, place: Place, cuts: list[Cut]) -> list[Item]:
        """Row after row, the first one's capitals' tops at ``place``."""
        items: list[Item] = []
        (x, y), body = place, self.setting.body
        for i, (number, cut) in enumerate(cuts):
            right = x + i % self.columns * self.step + self.first
            base = y + i // self.columns * self.setting.line + body
            items += [
                lettering.lettered(
                    (right, base), number, body, look.INK, anchor="end", weight="bold"
                ),
                lettering.lettered((right + _AFTER, base), cut, body, look.INK),
            ]
        return items
