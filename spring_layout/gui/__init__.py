"""The window: everything shown comes from the plan."""
