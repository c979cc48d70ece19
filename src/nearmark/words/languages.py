"""The languages there are: English, as the messages are written, and one file for each other one.

A file is a gettext catalogue (``.po``) in the folder ``translations``, named after the code of the
language.  It is read as it is: nothing has to be compiled, so no compiled file can be stale.
"""

from datetime import date, datetime
from functools import cache
from gettext import GNUTranslations
from io import BytesIO
from pathlib import Path
from typing import Final

from nearmark.errors import InputError
from nearmark.words.translation import ENGLISH, Language, language_in_force

FOLDER = Path(__file__).parent / "translations"

_MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

MAX_CODE: Final = 12
"""Longer is no code of a language."""


def language_codes() -> tuple[str, ...]:
    """Codes of the languages there are, English first."""
    return (ENGLISH.code, *sorted(file.stem for file in FOLDER.glob("*.po")))


@cache
def own_name(code: str) -> str:
    """What the speakers of a language call it.

    >>> own_name("en"), own_name("es")
    ('English', 'Español')
    """
    from babel import Locale  # noqa: PLC0415 - English alone needs none of it

    name = Locale.parse(code).get_display_name() or code
    return name[:1].upper() + name[1:]


@cache
def is_right_to_left(code: str) -> bool:
    """Whether a language is written from right to left.

    >>> is_right_to_left("es"), is_right_to_left("ar")
    (False, True)
    """
    from babel import Locale  # noqa: PLC0415 - English alone needs none of it

    return code != ENGLISH.code and Locale.parse(code).text_direction == "rtl"


def language(code: str) -> Language:
    """A language with its messages; one that is not translated is said in English.

    ``code``: such as ``es``. Raises InputError if no catalogue is of this language.
    """
    if code == ENGLISH.code:
        return ENGLISH
    known = language_codes()
    if code not in known:
        raise InputError(
            "is not a language known here",
            where="language",
            value=code[:MAX_CODE],
            mend=f"Choose {' or '.join(known)}",
        )
    return _read(FOLDER / f"{code}.po")


@cache
def _read(file: Path) -> Language:
    from babel import UnknownLocaleError  # noqa: PLC0415 - English alone needs none of it
    from babel.messages.mofile import write_mo  # noqa: PLC0415
    from babel.messages.pofile import PoFileError, read_po  # noqa: PLC0415
    from babel.numbers import get_decimal_symbol  # noqa: PLC0415

    try:
        with file.open("rb") as lines:
            catalogue = read_po(lines, locale=file.stem, abort_invalid=True)
        decimal_mark = get_decimal_symbol(file.stem)
    except (PoFileError, UnknownLocaleError, ValueError) as error:
        raise InputError(
            "cannot be read as a catalogue of messages",
            where=f"translations/{file.name}",
            mend="Check the file with a program for translators; its name is a code such as es.po",
        ) from error
    compiled = BytesIO()
    write_mo(compiled, catalogue)
    compiled.seek(0)
    return Language(file.stem, GNUTranslations(compiled), decimal_mark)


def day_words(day: date) -> str:
    """A date that cannot be misread in another country, as the language in force writes it.

    >>> day_words(date(2027, 5, 8))
    '8 May 2027'
    """
    code = language_in_force().code
    if code == ENGLISH.code:
        return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
    from babel.dates import format_date  # noqa: PLC0415 - English alone needs none of it

    return format_date(day, format="long", locale=code)


def moment_words(at: datetime) -> str:
    """A date and a time of day, in short.

    ``at``: as the clock on the wall shows it.

    >>> moment_words(datetime(2027, 9, 8, 14, 5))
    '8 Sep 2027 14:05'
    """
    code = language_in_force().code
    if code == ENGLISH.code:
        return f"{at.day} {_MONTHS[at.month - 1][:3]} {at.year} {at:%H:%M}"
    from babel.dates import format_date  # noqa: PLC0415 - English alone needs none of it

    return f"{format_date(at, format='medium', locale=code)} {at:%H:%M}"
