"""Everything the program works out from a deck, one topic a module."""
