"""The seat deck in plan: scene, view and items."""
