"""Pairs: add one, and change whether it takes part."""

from nearmark.contest.event import PairStatus
from nearmark.errors import InputError
from nearmark.site.acts.events import open_event
from nearmark.site.acts.history import note
from nearmark.site.models import PairRecord
from nearmark.site.writing import writing


def next_code(taken: set[str]) -> str:
    """The next free code of the usual form.

    Parameters
    ----------
    taken : set of str

    Examples
    --------
    >>> next_code({"P01", "P02", "Q9"})
    'P03'
    """
    number = 1
    while f"P{number:02}" in taken:
        number += 1
    return f"P{number:02}"


def add_pair(code: str, school: str, members: tuple[str, ...], heat: str, *, by: str) -> PairRecord:
    """Add one pair, or one child alone.

    Parameters
    ----------
    code : str
        Empty: the next free one.
    school, heat : str
    members : tuple of str, one or two
    by : str

    Raises
    ------
    InputError, RuleError
    """
    with writing():
        event = open_event()
        taken = set(event.pairs.values_list("code", flat=True))
        code = code or next_code(taken)
        if code in taken:
            raise InputError(
                "is taken", where="code", value=code, mend="Leave it empty for the next free one"
            )
        pair = PairRecord.objects.create(
            event=event, code=code, school=school, members=list(members), heat=heat
        )
        note(event, by, f"added pair {code}", new=school)
    return pair


def set_status(pair_id: int, status: PairStatus, *, by: str, why: str) -> None:
    """Change whether a pair takes part.

    Parameters
    ----------
    pair_id : int
    status : PairStatus
    by, why : str

    Raises
    ------
    InputError, RuleError
    """
    with writing():
        event = open_event()
        pair = event.pairs.filter(pk=pair_id).first()
        if pair is None:
            raise InputError("is not known", where="pair", value=pair_id)
        old, pair.status = pair.status, status.value
        pair.save()
        note(event, by, f"changed pair {pair.code}", old=old, new=status.value, why=why)
