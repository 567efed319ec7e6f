"""What the hand is doing: tools as objects that can be cancelled."""
