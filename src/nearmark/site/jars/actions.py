"""The shelf of practice jars: putting jars on it, opening it, handing parts out."""

import threading
from typing import Any, Final

from django.core import signing
from django.db.models import QuerySet

from nearmark.charts.jar_layers import peel
from nearmark.charts.jar_scene import filled_shell, whole_bytes
from nearmark.charts.ready_jars import ready_jars
from nearmark.coaching.jar_reading import band_of, checked_estimate
from nearmark.errors import InputError, RuleError
from nearmark.packing import jar_from_bytes
from nearmark.printing.jar_cards import JarCard
from nearmark.printing.jar_photo import MAX_BYTES, safe_photo
from nearmark.site.common import clock
from nearmark.site.common.writing import writing
from nearmark.site.event.history import note
from nearmark.site.jars import build as jar_build
from nearmark.site.jars.build import Exhibit
from nearmark.site.jars.models import JarKind, JarPart, JarSwitch, PracticeJar

MAX_JARS: Final = 400
"""On the shelf at once."""

MAX_JAR_BYTES: Final = 500_000
MAX_PHOTO_BYTES: Final = MAX_BYTES
_SIGNED_FOR: Final = "nearmark jar part"
PASS_LIFE_S: Final = 16 * 3600
_TYPES: Final = {
    "jar": "application/octet-stream",
    "shell": "application/octet-stream",
    "whole": "application/octet-stream",
    "top": "image/png",
    "side": "image/png",
    "photo": "image/jpeg",
}
_DRAWING: Final = threading.Lock()


def jars_to_try() -> QuerySet[PracticeJar]:
    """Open jars that no open drill asks: its pupils could look the count up in a second window."""
    open_jars = PracticeJar.objects.filter(gone_at=None, is_open=True)
    return open_jars.exclude(pk__in=_asked_now().values("pk"))


def is_asked_now(jar: PracticeJar) -> bool:
    """Whether an open drill asks a jar."""
    return _asked_now().filter(pk=jar.pk).exists()


def _asked_now() -> QuerySet[PracticeJar]:
    return PracticeJar.objects.filter(
        asked__drill__closed_at=None, asked__drill__expires_at__gt=clock.now()
    )


def known_jar(jar_id: int) -> PracticeJar:
    """A jar on the shelf."""
    jar = PracticeJar.objects.filter(pk=jar_id, gone_at=None).first()
    if jar is None:
        raise InputError("is not on the shelf", where="jar", value=jar_id, mend="Choose another")
    return jar


def pass_for(jar: PracticeJar, name: str) -> str:
    """A signed pass that opens one file of one jar for a day: ``whole`` only after the answer."""
    return signing.dumps([jar.pk, name], salt=_SIGNED_FOR, compress=False)


def part_of_pass(token: str) -> tuple[bytes, str]:
    """The file a pass opens and its content type; InputError if it is not ours, or too old."""
    try:
        jar_id, name = signing.loads(token, salt=_SIGNED_FOR, max_age=PASS_LIFE_S)
    except signing.BadSignature as error:
        raise InputError(
            "does not open anything any more", where="address", mend="Load the page again"
        ) from error
    jar = known_jar(jar_id)
    return _part(jar, name), _TYPES[name]


def _part(jar: PracticeJar, name: str) -> bytes:
    if name == "whole":
        settled = settled_jar(jar)
        return whole_bytes(settled, peel(settled, jar.layers or 1.0), jar.fill_height_cm or 0.0)
    found = JarPart.objects.filter(jar=jar, name=name).first()
    if found is None and name in {"top", "side"} and not jar.is_photo:
        return dict(zip(("top", "side"), still_pictures(jar), strict=True))[name]
    if found is None:
        raise InputError("has no such file", where=f"jar {jar.code}", value=name)
    content = bytes(found.content)
    return filled_shell(content) if name == "shell" else content


def still_pictures(jar: PracticeJar) -> tuple[bytes, bytes]:
    """The pictures of a poured jar from above and from the side; drawn once, then kept."""
    # A class of tablets asks at once: one of them has them drawn.
    with _DRAWING:
        kept = {p.name: bytes(p.content) for p in jar.parts.filter(name__in=("top", "side"))}
        if len(kept) == 2:
            return kept["top"], kept["side"]
        top, side = jar_build.pictures(_part(jar, "jar"))
        with writing():
            for name, content in (("top", top), ("side", side)):
                JarPart.objects.get_or_create(
                    jar=jar, name=name, defaults={"content_type": _TYPES[name], "content": content}
                )
    return top, side


def card_of(jar: PracticeJar, *, with_pictures: bool) -> JarCard:
    """What the printed card of a jar shows; its key page needs no pictures."""
    pictures: tuple[bytes, ...] = ()
    if with_pictures:
        pictures = (_part(jar, "photo"),) if jar.is_photo else still_pictures(jar)
    return JarCard(
        code=jar.code,
        what=jar.what,
        count=jar.count,
        layer=jar.layer,
        layers=jar.layers,
        pictures=pictures,
        checked_by=jar.checked_by,
    )


def settled_jar(jar: PracticeJar) -> Any:
    """The jar as it was poured."""
    return jar_from_bytes(_part(jar, "jar"))


def keep_exhibit(made: Exhibit, *, by: str, how: str, is_ahead: bool = False) -> PracticeJar:
    """Put a jar on the shelf; one poured ahead is kept back until a drill asks it."""
    told = made.told
    with writing():
        jar = _new_jar(
            JarKind.POURED,
            by=by,
            what=told["what"],
            count=told["count"],
            layer=told["layer"],
            layers=told["layers"],
            fill_height_cm=told["fill_height_cm"],
            is_open=not is_ahead,
            is_ahead=is_ahead,
        )
        for name, content in (("jar", made.jar), ("shell", made.shell)):
            JarPart.objects.create(jar=jar, name=name, content_type=_TYPES[name], content=content)
        # The count is no part of the history: several people read it.
        note(None, by, f"{how} practice jar {jar.code}", new=jar.what)
    return jar


def _new_jar(kind: JarKind, *, by: str, count: int, **more: Any) -> PracticeJar:
    if PracticeJar.objects.filter(gone_at=None).count() >= MAX_JARS:
        raise RuleError(f"{MAX_JARS} jars are on the shelf", mend="Take some off first")
    letter = "F" if kind is JarKind.PHOTO else "J"
    number = PracticeJar.objects.count() + 1
    return PracticeJar.objects.create(
        code=f"{letter}{number:02d}",
        kind=kind,
        band=band_of(count),
        count=count,
        made_by=by,
        made_at=clock.now(),
        **more,
    )


def import_jar(content: bytes, *, by: str) -> PracticeJar:
    """Put a jar file on the shelf, as ``nearmark jar`` and ``nearmark jars make`` write it."""
    if len(content) > MAX_JAR_BYTES:
        raise InputError("is larger than 500 kB", where="jar file", mend="Choose a jar file")
    jar_from_bytes(content)  # refused here before a process is started
    return keep_exhibit(jar_build.exhibit(content), by=by, how="imported")


def shelve_ready(*, by: str) -> int:
    """Put the jars of the package on the shelf, once. Returns how many."""
    with writing():
        if PracticeJar.objects.filter(gone_at=None, kind=JarKind.POURED).exists():
            raise RuleError("there are jars on the shelf already", mend="Pour another one")
        ready = ready_jars()
        for jar in ready:
            keep_exhibit(Exhibit(jar.jar, jar.shell, jar.told), by=by, how="shelved")
    return len(ready)


def add_photo(content: bytes, what: str, count: int, checked_by: str, *, by: str) -> PracticeJar:
    """Make a coach's photo of a container a practice jar; somebody answers for the count."""
    checked_estimate(count)
    if str(count) in what.replace(",", "").replace(" ", ""):
        raise InputError(
            "says the count", where="what is in it", value=what, mend="Name the pieces only"
        )
    safe = safe_photo(content)
    with writing():
        jar = _new_jar(JarKind.PHOTO, by=by, what=what, count=count, checked_by=checked_by)
        JarPart.objects.create(jar=jar, name="photo", content_type=_TYPES["photo"], content=safe)
        note(None, by, f"added photo jar {jar.code}", new=what)
    return jar


def set_open(jar_id: int, *, is_open: bool, by: str) -> PracticeJar:
    """Make a jar available, or keep it back."""
    with writing():
        jar = known_jar(jar_id)
        jar.is_open = is_open
        jar.save(update_fields=["is_open"])
        note(None, by, f"{'opened' if is_open else 'kept back'} practice jar {jar.code}")
    return jar


def take_off(jar_id: int, *, by: str) -> PracticeJar:
    """Take a jar and its files off the shelf for good; RuleError if an open drill asks it."""
    with writing():
        jar = known_jar(jar_id)
        if is_asked_now(jar):
            raise RuleError(
                "an open drill asks it", where=f"jar {jar.code}", mend="Close the drill first"
            )
        jar.gone_at = clock.now()
        jar.save(update_fields=["gone_at"])
        jar.parts.all().delete()
        note(None, by, f"took practice jar {jar.code} off the shelf", old=jar.what)
    return jar


def is_open_to_all() -> bool:
    """Whether everybody on this network may practise."""
    return JarSwitch.objects.filter(open_to_all=True).exists()


def open_to_all(*, is_open: bool, by: str) -> None:
    """Switch free practice for everybody on this network on or off."""
    with writing():
        JarSwitch.objects.update_or_create(pk=1, defaults={"open_to_all": is_open})
        words = "opened practice to everybody on this network" if is_open else "closed practice"
        note(None, by, words)
