"""The one exception a command raises to refuse bad usage or input."""


class Refusal(Exception):
    """Said to the person on one line; the program then ends with exit code 2.

    The text is a sentence that names the thing, the place and the remedy.
    """
