"""What is so now at each step of the day; read behind the name of the step."""

from collections.abc import Sequence

from nearmark.words.numbers import plural


def _n(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"


def keys_now(n_fit: int, n_decided: int, waiting: Sequence[str]) -> str:
    """True of keys: how many fit, how many the lead accepted, and the items that wait for work."""
    if not n_fit + n_decided:
        return "there is no item yet"
    if waiting:
        return f"still to do: {', '.join(waiting)}"
    said = f"{_n(n_fit, 'key is', 'keys are')} fit"
    return f"{said}, {n_decided} accepted with a reason" if n_decided else said


def cups_now(n: int) -> str:
    """True where so many cups were weighed empty."""
    return f"{_n(n, 'cup has', 'cups have')} a mass" if n else "no cup has been weighed empty yet"


def pairs_now(n: int) -> str:
    """True of an event with so many pairs."""
    return f"{plural(n, 'pair')} so far" if n else "there is no pair yet"


def heats_planned_now(n_pairs: int, n_without: int) -> str:
    """True of the pairs that take part, so many of them without a heat."""
    if not n_pairs:
        return "there is no pair to plan for yet"
    if n_without:
        return f"{n_without} of {plural(n_pairs, 'pair')} without a heat"
    return "every pair has a heat"


def paper_now(has_answers: bool, is_made: bool) -> str:  # noqa: FBT001
    """True of the paper: what was written on it shows that it was printed."""
    if has_answers:
        return "answers are in"
    if is_made:
        return "all paper of the day was made in one file"
    return "answer sheets, labels, lists, and forms in case the screens fail"


def helpers_now(n_in: int, is_read: bool) -> str:  # noqa: FBT001
    """True of helpers who are in; ``is_read``: every answer was read twice."""
    if n_in:
        return f"{_n(n_in, 'helper is', 'helpers are')} in"
    if is_read:
        return "no helper is in, and no answer waits for one"
    return "no helper is in; two people read each sheet"


def heats_run_now(n_heats: int, to_come: Sequence[str], unseen: Sequence[str]) -> str:
    """True of heats not started on this clock: those without answers, and those with answers."""
    if not n_heats:
        return "there is no heat yet"
    if to_come:
        return f"still to come: {', '.join(to_come)}"
    if unseen:
        return f"not started on this clock, but with answers: {', '.join(unseen)}"
    return "every heat was started"


def weighed_in_now(n_in: int, n_cups: int) -> str:
    """True of the full cups: so many of all are weighed."""
    return f"{n_in} of {_n(n_cups, 'cup is', 'cups are')} in" if n_cups else "no cup is in yet"


def read_twice_now(n_answers: int, n_left: int, n_cups: int) -> str:
    """True of answers, so many of them read less than twice, so many of these at the weigh-in."""
    if not n_answers:
        return "there is nothing to read yet"
    if not n_left:
        return f"none of {plural(n_answers, 'answer')} waits for a reading"
    said = f"{n_left} of {plural(n_answers, 'answer')} {'waits' if n_left == 1 else 'wait'}"
    said += " for a reading"
    if n_cups:
        said += f", {'' if n_cups == n_left else f'{n_cups} of them '}at the weigh-in"
    return said


def differences_now(n: int, is_read: bool) -> str:  # noqa: FBT001
    """True of answers read in two ways; ``is_read``: every answer was read twice."""
    if n:
        return f"{_n(n, 'answer waits', 'answers wait')} for a third person"
    return "no two readings differ without a decision" if is_read else "none so far"


def audit_not_drawn() -> str:
    """True before the sheets are drawn that are read again."""
    return "no sheet is drawn yet; dice say which"


def points_now(n: int, is_read: bool) -> str:  # noqa: FBT001
    """True of open points that no other step settles; ``is_read``: every answer was read twice."""
    if n:
        return f"{_n(n, 'point is', 'points are')} open beside the steps above"
    return "no other point is open" if is_read else "questions about answers will appear here"


def release_now(is_out: bool) -> str:  # noqa: FBT001
    """True of results that are out, or not."""
    return "they are out" if is_out else "nobody sees a place before you release them"
