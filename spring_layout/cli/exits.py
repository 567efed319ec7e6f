"""How the program ends."""

PROGRAM = "spring-layout"

DONE, DONE_WITH_WRONG, UNUSABLE = 0, 1, 2


class RefusedError(Exception):
    """The input or the output cannot be used; the message is one sentence with the mend."""
