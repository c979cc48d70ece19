"""Sealing the keys before the day."""

import secrets

from nearmark.contest.keys import event_keys
from nearmark.contest.proof.sealed_keys import SALT_BYTES, commitment, key_file, sealed_keys
from nearmark.errors import RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.current import open_event
from nearmark.site.event.history import note
from nearmark.site.event.load import load_kit
from nearmark.site.event.models import EventRecord
from nearmark.site.kit.models import KeySeal


def seal_keys(*, by: str) -> KeySeal:
    """Seal the keys as they are now; RuleError if one is missing, or nothing has changed."""
    with writing():
        record = open_event()
        event = load_kit(record)
        keys = event_keys(event)
        without = [code for code, key in keys.items() if key.key is None]
        if without or not keys:
            raise RuleError(
                f"{', '.join(without)} has no key yet" if without else "there is no item yet",
                mend="Measure every item first, then seal",
            )
        last = record.seals.first()
        now = sealed_keys(keys.values())
        salt = secrets.token_hex(SALT_BYTES)
        text = key_file(event.name, event.day.isoformat(), now, salt)
        if last is not None and _without_salt(last.text) == _without_salt(text):
            raise RuleError("these keys are sealed already", mend="Nothing has to be done")
        seal = KeySeal.objects.create(
            event=record,
            number=last.number + 1 if last else 1,
            at=clock.now(),
            by=by,
            text=text,
            commitment=commitment(text),
        )
        note(record, by, f"sealed the keys, seal {seal.number}", new=seal.commitment)
    return seal


def _without_salt(text: str) -> str:
    return text.rpartition("\nsalt\t")[0]


def is_changed_since_sealing(record: EventRecord) -> bool:
    """Whether the keys of now are other than those of the last sealing."""
    last = record.seals.first()
    event = load_kit(record)
    text = key_file(event.name, event.day.isoformat(), sealed_keys(event_keys(event).values()), "")
    return last is not None and _without_salt(last.text) != _without_salt(text)
