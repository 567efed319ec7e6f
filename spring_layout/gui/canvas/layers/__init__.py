"""The layers of the canvas; each keeps its items in step with the deck and the plan."""
