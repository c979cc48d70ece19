"""The examples below the help of a command; a test runs each of them."""


def examples(*lines: str) -> str:
    """The end of a help text: examples, each on a line of its own.

    >>> examples("nearmark points 5700 6041").splitlines()[1:]
    ['Examples:', '  nearmark points 5700 6041']
    """
    return "\b\nExamples:\n" + "\n".join(f"  {line}" for line in lines)
