"""Pictures as plain primitives in millimetres, walked once and played onto a pen."""
