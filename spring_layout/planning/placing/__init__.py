"""Where springs could stand: suggested layouts, and spacing them evenly."""
