"""The pages beside the seat deck."""
