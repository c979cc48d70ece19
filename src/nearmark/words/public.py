"""What the pages for everybody are called, and what the clock of the hall says."""

from nearmark.words.numbers import plural
from nearmark.words.translation import say, say_count


def pair_title(code: str) -> str:
    """The page of one pair."""
    return say("Pair {code}", code=code)


def release_title(number: int) -> str:
    """Standings that were released, by their number."""
    return say("Release {number}", number=number)


def own_page_title() -> str:
    """The page where a pair types its code."""
    return say("Your page")


def closest_words(item: str, error: str) -> str:
    """True of the answer of a pair that brings most points."""
    return say("Your closest: {item}, {error}.", item=item, error=error)


def corrections_since(n: int) -> str:
    """True of results that were put right after the first release."""
    return say("{corrections} since the first release:", corrections=plural(n, "correction"))


def keys_sealed(at: str, commitment: str) -> str:
    """True of keys that were sealed; names the hash of their file."""
    return say(
        "Keys sealed {at}. SHA-256 of the key file: {commitment}", at=at, commitment=commitment
    )


def clock_title() -> str:
    """The clock in the hall."""
    return say("Clock")


def not_started() -> str:
    """True of a day before its first heat."""
    return say("not started")


def last_minutes_words(n: int) -> str:
    """True in the last minutes of a heat, however many they are."""
    return say_count("Last {n} minute.", "Last {n} minutes.", n)
