"""What a page answers after something was saved, imported or deleted."""

from collections.abc import Sequence

from nearmark.words.numbers import plural
from nearmark.words.translation import say, say_count


def answers_saved(n: int) -> str:
    """True of answers that are saved."""
    return say_count("{n} answer saved.", "{n} answers saved.", n)


def pairs_imported(n: int) -> str:
    """True of pairs that were imported from a list."""
    return say_count("{n} pair was imported.", "{n} pairs were imported.", n)


def jars_imported(n: int) -> str:
    """True of jar files that were put on the shelf."""
    return say_count("{n} jar imported.", "{n} jars imported.", n)


def attempts_saved(n: int) -> str:
    """True of attempts of one round."""
    return say_count("{n} attempt is saved.", "{n} attempts are saved.", n)


def attempts_imported(n: int) -> str:
    """True of attempts that were imported from a log."""
    return say_count("{n} attempt was imported.", "{n} attempts were imported.", n)


def pupil_deleted(n: int) -> str:
    """True of a pupil who is deleted, with all attempts."""
    return say("The pupil was deleted with {attempts}.", attempts=plural(n, "attempt"))


def pupils_added(n: int) -> str:
    """True of pupils who were added to a club."""
    return say_count("{n} pupil was added.", "{n} pupils were added.", n)


def clubs_deleted(n: int) -> str:
    """True of clubs whose date was over."""
    return say_count(
        "{n} club was deleted with everything in it.",
        "{n} clubs were deleted with everything in them.",
        n,
    )


def are_here(codes: Sequence[str]) -> str:
    """True of pairs who were marked as here."""
    return say_count("{codes} is here.", "{codes} are here.", len(codes), codes=", ".join(codes))


def are_not_here(codes: Sequence[str]) -> str:
    """True of pairs of whom it was taken back that they are here."""
    return say_count(
        "{codes} is not here.", "{codes} are not here.", len(codes), codes=", ".join(codes)
    )


def sheets_and_children(n_sheets: int, n_children: int) -> str:
    """What a list for the check-in counts."""
    return say(
        "{sheets}, {children}",
        sheets=plural(n_sheets, "sheet"),
        children=plural(n_children, "child"),
    )


def release_status(release: int | None, n_open: int) -> str:
    """How final a result is, as it is printed at its head.

    The number of the release is 0 when none is out; ``None``: nobody knows, and only open points
    speak against it.

    >>> release_status(2, 0), release_status(2, 1)
    ('Release 2', 'Release 2. 1 point stays open')
    >>> release_status(0, 0), release_status(0, 3), release_status(None, 0)
    ('Provisional: not released', 'Provisional: 3 points are open', '')
    """
    if release and not n_open:
        return say("Release {number}", number=release)
    if release:
        return say_count(
            "Release {number}. {n} point stays open",
            "Release {number}. {n} points stay open",
            n_open,
            number=release,
        )
    if n_open:
        return say_count(
            "Provisional: {n} point is open", "Provisional: {n} points are open", n_open
        )
    return "" if release is None else say("Provisional: not released")
