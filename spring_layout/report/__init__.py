"""The plan in words and as JSON."""
