"""Coming in: the first lead, signing in, joining by a one-time code, locking, revoking."""

import re
import secrets
from datetime import timedelta
from functools import cache
from typing import Final

from django.contrib.auth.hashers import make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils.crypto import salted_hmac

from nearmark.errors import InputError, RuleError
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.door.access import Role
from nearmark.site.door.models import Account, Device, JoinCode
from nearmark.site.door.rate_limit import WrongGuessError, one_guess
from nearmark.site.event.history import note

CODE_LETTERS: Final = "23456789ABCDEFGHJKLMNPQRSTUVWXY"
"""31 signs without those that look alike."""

CODE_LENGTH: Final = 8
CODE_LIFE: Final = timedelta(minutes=10)
CLOCK_SLACK: Final = timedelta(minutes=1)
"""A code made later than this from now is of before the clock was set back: it would live longer
than it should."""

DEVICE_LIFE: Final = timedelta(hours=16)
_PIN = re.compile(r"[0-9]{4,8}")


def needs_first_run() -> bool:
    """Whether nobody has an account yet."""
    return not Account.objects.exists()


def make_first_lead(name: str, password: str) -> Account:
    """Make the lead's account; works once."""
    _check_password(password)
    with writing():
        name = checked_name(name)
        if not needs_first_run():
            raise RuleError("the first account was made already", mend="Sign in")
        lead = Account.objects.make(name, Role.LEAD, password)
        note(None, name, "made the first account")
    return lead


def sign_in(name: str, password: str, *, address: str) -> Account:
    """The account of a name and a password.

    ``address``: where the guess comes from. Raises InputError: the same for a wrong name and a
    wrong password. Raises RuleError after too many wrong tries.
    """
    name = name.strip()
    with one_guess("password", f"{address} {name}", address=address):
        account = Account.objects.filter(name=name, joined_by_code=False, is_active=True).first()
        # Hash in any case: the time of an answer must not tell which names exist.
        found = account or Account(name=name, password=_nobodys_hash())
        if not found.check_password(password) or account is None:
            raise WrongGuessError("name or password is wrong", where="sign in", mend="Try again")
    return account


@cache
def _nobodys_hash() -> str:
    return make_password(secrets.token_hex(8))


def open_device(account: Account, about: str, *, address: str = "") -> Device:
    """Note the browser somebody came in with: what it says it is, and where on the network."""
    now = clock.now()
    with writing():
        return Device.objects.create(
            account=account,
            about=about[:80],
            address=address[:45],
            joined_at=now,
            expires_at=now + DEVICE_LIFE,
            seen_at=now,
        )


def make_code(
    role: Role, by: str, *, again: Account | None = None, job: str = ""
) -> tuple[str, JoinCode]:
    """Make a one-time code; only its keyed hash is kept.

    ``again``: somebody who was here before and comes back to what is theirs; joined by code then
    too. ``job``: of a scorer, one of ``roles.Job``; empty: everything of the role. Returns (code,
    record).
    """
    if again is not None and (not again.joined_by_code or again.role != role.value):
        raise InputError(
            "did not join by code", where="who", value=again.name, mend="Choose from the list"
        )
    if role is Role.PUBLIC:
        raise InputError("needs a role", where="role", mend="Choose lead, scorer or coach")
    code = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
    now = clock.now()
    with writing():
        record = JoinCode.objects.create(
            code_hash=_code_hash(code),
            role=role.value,
            job=job if role is Role.SCORER else "",
            account=again,
            made_by=by,
            made_at=now,
            expires_at=now + CODE_LIFE,
        )
        note(None, by, f"made a code for {'a ' + role if again is None else again.name}")
    return code, record


def join(code: str, name: str, pin: str, *, address: str) -> Account:
    """Use a one-time code: make an account with the role the code carries, or open the old one.

    ``code``: in any case, with or without the blank in the middle. ``name``: who will be using the
    device. ``pin``: 4 to 8 digits, chosen now; opens the device after it has locked itself.
    ``address``: where the guess comes from.
    """
    if not _PIN.fullmatch(pin):
        raise InputError("needs 4 to 8 digits", where="PIN", mend="Choose one you will remember")
    with one_guess("code", address, address=address):
        account = _use_code(code, name, pin)
        if account is None:
            raise WrongGuessError(
                "is not valid any more, or never was",
                where="code",
                mend="Ask the lead for a new one",
            )
    return account


def _use_code(code: str, name: str, pin: str) -> Account | None:
    plain = "".join(code.upper().split()).replace("-", "")
    now = clock.now()
    with writing():
        # The condition is in the update: of two who post one code, one gets in.
        used = JoinCode.objects.filter(
            code_hash=_code_hash(plain),
            used_at=None,
            expires_at__gt=now,
            made_at__lte=now + CLOCK_SLACK,
        ).update(used_at=now)
        if not used:
            return None
        record = JoinCode.objects.select_related("account").get(code_hash=_code_hash(plain))
        if record.account is not None:
            return _back_again(record.account, name, pin)
        name, role = checked_name(name), Role(record.role)
        account = Account.objects.make(name, role, pin, joined_by_code=True, job=record.job)
        JoinCode.objects.filter(pk=record.pk).update(account=account)
        note(None, name, f"joined as {role} by code")
        return account


def _back_again(account: Account, name: str, pin: str) -> Account:
    """Whoever was here before: a new PIN, and the devices of before are out."""
    if " ".join(name.split()).casefold() != account.name.casefold():
        raise InputError(
            "is not who the code is for", where="name", value=name, mend=f"Write {account.name}"
        )
    account.set_password(pin)
    account.save(update_fields=["password"])
    Device.objects.filter(account=account, revoked_at=None).update(revoked_at=clock.now())
    note(None, account.name, "joined again by code")
    return account


def _code_hash(code: str) -> str:
    return salted_hmac("nearmark join code", code, algorithm="sha256").hexdigest()


def unlock(device: Device, secret: str, *, address: str) -> None:
    """Open a locked device with the PIN or the password of its account."""
    with one_guess("pin", f"device {device.pk}", address=address):
        if not device.account.check_password(secret):
            raise WrongGuessError("is wrong", where="PIN or password", mend="Try again")
    with writing():
        Device.objects.filter(pk=device.pk).update(locked=False, seen_at=clock.now())


def lock(device: Device) -> None:
    """Lock a device now."""
    with writing():
        Device.objects.filter(pk=device.pk).update(locked=True)


def revoke(device: Device, *, by: str) -> None:
    """Shut a device out for good."""
    with writing():
        changed = Device.objects.filter(pk=device.pk, revoked_at=None).update(
            revoked_at=clock.now()
        )
        if changed:
            note(None, by, f"revoked the device of {device.account.name}")


def checked_name(name: str) -> str:
    """A name nobody else has, or a refusal."""
    plain = " ".join(name.split())
    if not 2 <= len(plain) <= 60 or not plain.isprintable():
        raise InputError("needs 2 to 60 letters", where="name", mend="Write a name or a nickname")
    if Account.objects.filter(name__iexact=plain).exists():
        raise InputError(
            "is taken", where="name", value=plain, mend="Add something, such as the table"
        )
    return plain


def _check_password(password: str) -> None:
    try:
        validate_password(password)
    except ValidationError as error:
        raise InputError(
            " ".join(error.messages).rstrip("."),
            where="password",
            mend="Four unrelated words make a good one",
        ) from error
