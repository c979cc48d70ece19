"""Who may come in: accounts, their devices, one-time codes, and failed guesses."""

from datetime import datetime
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models

from nearmark.site.door.access import Role

_ROLES = [(role.value, role.value) for role in Role if role is not Role.PUBLIC]


class AccountManager(BaseUserManager["Account"]):
    """Makes accounts with a hashed secret; there is no default one."""

    def make(self, name: str, role: Role, secret: str, **more: Any) -> "Account":
        """Make and save an account with a password, or the PIN of a device joined by code."""
        account = self.model(name=name, role=role.value, **more)
        account.set_password(secret)
        account.save()
        return account


class Account(AbstractBaseUser):
    """A person with a role; somebody who joined by code has one too, with a PIN."""

    # Is beside every reading this person makes.
    name = models.CharField(max_length=60, unique=True)
    role = models.CharField(max_length=10, choices=_ROLES)
    # Such an account works on its own device only, until that is revoked or runs out.
    joined_by_code = models.BooleanField(default=False)
    # Name of ``roles.Job``: what the menu of a helper shows; empty: everything of the role.
    job = models.CharField(max_length=10, blank=True, default="")
    is_active = models.BooleanField(default=True)

    USERNAME_FIELD = "name"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["role"]

    objects: ClassVar[AccountManager] = AccountManager()

    def __str__(self) -> str:
        return self.name


class Device(models.Model):
    """A browser that is in; the lead sees all of them and can revoke each."""

    account = models.ForeignKey(Account, models.CASCADE, related_name="devices")
    about = models.CharField(max_length=80)
    # On the network, when it came in; empty for those of before this was noted.
    address = models.CharField(max_length=45, blank=True, default="")
    joined_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    seen_at = models.DateTimeField()
    locked = models.BooleanField(default=False)
    revoked_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.account.name}: {self.about}"

    def is_open(self, now: datetime) -> bool:
        """Whether it may still be used."""
        return self.revoked_at is None and now < self.expires_at and self.account.is_active


class JoinCode(models.Model):
    """A one-time code, kept as a keyed hash, good for minutes and for one role."""

    code_hash = models.CharField(max_length=64, unique=True)
    role = models.CharField(max_length=10, choices=_ROLES)
    job = models.CharField(max_length=10, blank=True, default="")  # handed on to the account
    # Somebody who was here before and comes in again under the same name; once the code is used,
    # whoever came in by it.
    account = models.ForeignKey(Account, models.CASCADE, null=True, related_name="+")
    made_by = models.CharField(max_length=60)
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"{self.role} until {self.expires_at:%H:%M}"


class Attempt(models.Model):
    """A guess at a password, a PIN or a code; too many wrong ones close the door for a while."""

    kind = models.CharField(max_length=10)
    subject = models.CharField(max_length=80)
    address = models.CharField(max_length=45, blank=True, default="")
    at = models.DateTimeField(db_index=True)

    class Meta:
        indexes = [models.Index(fields=["kind", "subject", "at"])]

    def __str__(self) -> str:
        return f"{self.kind} {self.subject}"
