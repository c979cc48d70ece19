"""Pairs: add one, change who is in it and whether it takes part."""

from nearmark.contest.event import PairStatus
from nearmark.errors import InputError
from nearmark.event_folder.pairs_import import preview_pairs
from nearmark.site.common.lookup import known_row
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import pairs_of
from nearmark.site.event.models import PairRecord
from nearmark.site.event.rows import row_of
from nearmark.site.event_day.division_actions import check_division
from nearmark.site.season.retention_actions import leave_nothing, overwrite_what_is_deleted
from nearmark.words.deviations import n_others_words
from nearmark.words.numbers import plural


def next_code(taken: set[str]) -> str:
    """The next free code of the usual form.

    >>> next_code({"P01", "P02", "Q9"})
    'P03'
    """
    number = 1
    while f"P{number:02}" in taken:
        number += 1
    return f"P{number:02}"


def add_pair(
    code: str,
    school: str,
    members: tuple[str, ...],
    heat: str,
    *,
    division: str = "",
    by: str,
) -> PairRecord:
    """Add one or two children as a pair; empty: the next free code, no division."""
    with writing():
        event = open_event()
        taken = set(event.pairs.values_list("code", flat=True))
        code = code or next_code(taken)
        if code in taken:
            raise InputError(
                "is taken", where="code", value=code, mend="Leave it empty for the next free one"
            )
        check_division(event, division)
        pair = PairRecord.objects.create(
            event=event,
            code=code,
            school=school,
            members=list(members),
            heat=heat,
            division=division,
        )
        note(event, by, f"added pair {code}", new=school)
    return pair


def change_pair(
    pair_id: int,
    *,
    school: str,
    members: tuple[str, ...],
    whole_school: bool,
    by: str,
    why: str = "",
) -> PairRecord:
    """Change the children or the school of a pair.

    The history keeps both spellings of a school.  Of children it keeps their number only: an old
    name may be one that should never have been typed.

    ``members`` (tuple of str, one or two): first names or codes. ``whole_school``: whether every
    pair of the same school gets the new school too. Raises InputError, RuleError if nothing would
    change, both children have one name, or the results are out.
    """
    school, members = " ".join(school.split()), tuple(" ".join(name.split()) for name in members)
    if len(members) == 2 and members[0].casefold() == members[1].casefold():
        raise InputError(
            "is the name of the first child too",
            where="second child",
            mend="Add a letter if these are two children; empty the field if it is one",
        )
    overwrite_what_is_deleted()
    with writing():
        event = open_event()
        pair = known_row(event.pairs, "pair", pk=pair_id)
        old_school, old_members = pair.school, tuple(pair.members)
        if (school, members) == (old_school, old_members):
            raise InputError("are as before", where="children and school", mend="Change something")
        pair.school, pair.members = school, list(members)
        pair.save(update_fields=["school", "members"])
        if members != old_members:
            old, new = (_counted(names) for names in (old_members, members))
            what = f"changed the children of pair {pair.code}"
            note(event, by, what, old=old, new=new, why=why)
        if school != old_school:
            others = event.pairs.filter(school=old_school) if whole_school else event.pairs.none()
            n_others = others.update(school=school)
            what = f"changed the school of pair {pair.code}"
            if n_others:
                what += f" and {n_others_words(n_others)}"
            note(event, by, what, old=old_school, new=school, why=why)
    leave_nothing()
    return pair


def _counted(members: tuple[str, ...]) -> str:
    return f"{plural(len(members), 'child')}, names not kept"


def set_status(pair_id: int, status: PairStatus, *, by: str, why: str) -> None:
    """Change whether a pair takes part."""
    with writing():
        event = open_event()
        pair = known_row(event.pairs, "pair", pk=pair_id)
        old, pair.status = pair.status, status.value
        pair.save()
        note(event, by, f"changed pair {pair.code}", old=old, new=status.value, why=why)


def import_pairs(text: str, *, by: str) -> int:
    """Add every pair of a list, understood again as it is now, or none; how many."""
    with writing():
        event = open_event()
        divisions = list(event.divisions.values_list("name", flat=True))
        preview = preview_pairs(
            text, existing=pairs_of(event), divisions=divisions, name="list of pairs"
        )
        preview.raise_if_any()
        PairRecord.objects.bulk_create(
            row_of(PairRecord, pair, event=event) for pair in preview.pairs
        )
        n = len(preview.pairs)
        codes = f"{preview.pairs[0].code} to {preview.pairs[-1].code}"
        note(event, by, f"imported {plural(n, 'pair')}", new=codes)
    return n
