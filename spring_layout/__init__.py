"""Spring Layout: lay out and tie the coil springs of a hand-sprung seat."""

__version__ = "0.1.0"
