"""The tools: one object in the hand at a time, each of which can be cancelled."""

from dataclasses import dataclass

from spring_layout.gui.canvas.tools.base import Tool
from spring_layout.gui.canvas.tools.cutting import CutTool
from spring_layout.gui.canvas.tools.moving import MoveTool
from spring_layout.gui.canvas.tools.setting import SetTool
from spring_layout.gui.canvas.tools.shaping import ShapeTool
from spring_layout.gui.canvas.tools.tracing import TraceTool
from spring_layout.gui.canvas.tools.tying import JoinTool, TieTool
from spring_layout.gui.canvas.tools.webbing import StripTool


@dataclass(frozen=True)
class ToolKind:
    """A tool before it is in the hand: its class, icon and key, and the stage it belongs to."""

    make: type[Tool]
    icon: str
    key: str
    stage: str


TOOLS: dict[str, ToolKind] = {
    "shape": ToolKind(ShapeTool, "tool-shape", "C", "frame"),
    "trace": ToolKind(TraceTool, "tool-trace", "T", "frame"),
    "look": ToolKind(CutTool, "tool-look", "G", "height"),
    "move": ToolKind(MoveTool, "tool-move", "V", "springs"),
    "set": ToolKind(SetTool, "tool-set-spring", "S", "springs"),
    "strips": ToolKind(StripTool, "tool-strip", "B", "base"),
    "ties": ToolKind(TieTool, "tool-move", "W", "ties"),
    "join": ToolKind(JoinTool, "tool-join", "J", "ties"),
}
"""By name; the first of each stage is the one that the stage brings."""


def first_tool(stage: str) -> str | None:
    """The tool that a stage brings."""
    return next((name for name, kind in TOOLS.items() if kind.stage == stage), None)
