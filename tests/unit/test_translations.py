"""Every catalogue has every message of the parts that children, families and helpers read."""

import re
import shutil
import string
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from gettext import NullTranslations
from pathlib import Path

import pytest
import translations
from babel import Locale
from babel.messages.catalog import Message
from babel.numbers import format_decimal

from nearmark.errors import InputError
from nearmark.printing.words import day_text, number_text
from nearmark.words import languages
from nearmark.words.languages import language, language_codes, moment_words, own_name
from nearmark.words.numbers import percent, plural, points_words
from nearmark.words.public import last_minutes_words, pair_title
from nearmark.words.sides import amount_text
from nearmark.words.translation import Language, digits, say, spoken_in

CODES = [code for code in language_codes() if code != "en"]


@pytest.fixture(scope="module")
def template():
    return translations.template_catalogue()


def forms(message: Message) -> list[tuple[str, str]]:
    """Each translation of a message beside the English that it stands for."""
    if isinstance(message.id, tuple):
        one, many = message.id
        return [(one if number == 0 else many, text) for number, text in enumerate(message.string)]
    return [(str(message.id), str(message.string))]


def marks(text: str) -> set[str]:
    """Everything that a program fills in, and every tag."""
    named = {name for _, name, _, _ in string.Formatter().parse(text) if name}
    return named | set(re.findall(r"%\(\w+\)s|%%|</?\w+[^>]*>", text))


def test_there_is_a_catalogue_of_spanish():
    assert "es" in CODES


@pytest.mark.parametrize("code", CODES)
def test_a_catalogue_is_what_the_tool_writes_from_the_source(code, template):
    """A new message, a changed one and one that nobody says any more all fail here."""
    file = languages.FOLDER / f"{code}.po"

    assert file.read_text(encoding="utf-8") == translations.written(code, template), (
        "run: python tools/translations.py"
    )


@pytest.mark.parametrize("code", CODES)
def test_no_message_is_left_untranslated(code):
    assert translations.open_messages(code) == []


@pytest.mark.parametrize("code", CODES)
def test_no_translation_is_only_a_guess(code):
    assert [one.id for one in translations.read(code) if one.id and one.fuzzy] == []


@pytest.mark.parametrize("code", CODES)
def test_a_translation_fills_in_what_the_english_does(code):
    """The number itself may be left out of a form: "Last minute."."""
    wrong = [
        (english, text)
        for message in translations.read(code)
        if message.id
        for english, text in forms(message)
        if (marks(english) ^ marks(text)) - {"n"}
    ]

    assert wrong == []


@pytest.mark.parametrize("code", CODES)
def test_a_catalogue_has_the_plural_forms_of_its_language(code):
    """Source: the rules of the Unicode locale data (CLDR), as Babel carries them."""
    catalogue = translations.read(code)
    found = {catalogue.num_plurals}

    assert found == {len(Locale.parse(code).plural_form.tags) + 1}


@pytest.mark.slow
def test_a_changed_source_makes_the_catalogue_stale(tmp_path, monkeypatch, template):
    shutil.copy(languages.FOLDER / "es.po", tmp_path)
    monkeypatch.setattr(translations, "FOLDER", tmp_path)
    monkeypatch.setattr(languages, "FOLDER", tmp_path)
    template.delete("All places")
    template.add("All the places")

    (tmp_path / "es.po").write_text(translations.written("es", template), encoding="utf-8")

    assert translations.open_messages("es") == ["All the places"]


def test_a_third_language_is_one_file(tmp_path, monkeypatch):
    monkeypatch.setattr(languages, "FOLDER", tmp_path)
    (tmp_path / "mi.po").write_text(
        'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Plural-Forms: nplurals=2; plural=n!=1;\\n"\n\n'
        'msgid "Pair {code}"\nmsgstr "Tokorua {code}"\n',
        encoding="utf-8",
    )

    assert language_codes() == ("en", "mi")
    with spoken_in(language("mi")):
        assert pair_title("P07") == "Tokorua P07"
        assert last_minutes_words(2) == "Last 2 minutes."  # not translated yet: English


def test_a_language_that_is_not_there_is_refused_with_those_that_are():
    with pytest.raises(InputError, match="language") as refused:
        language("xx")

    assert "es" in refused.value.mend


def test_a_catalogue_that_cannot_be_read_is_named(tmp_path, monkeypatch):
    monkeypatch.setattr(languages, "FOLDER", tmp_path)
    (tmp_path / "mi.po").write_text("nothing of the kind", encoding="utf-8")

    with pytest.raises(InputError, match=r"mi\.po"):
        language("mi")


@pytest.fixture
def spanish():
    with spoken_in(language("es")):
        yield


@pytest.mark.usefixtures("spanish")
def test_spanish_writes_a_decimal_comma():
    """Source: CLDR of plain ``es``, through Babel."""
    assert number_text(651.3481, 1) == format_decimal(651.3, locale="es")
    assert points_words(Fraction(869, 3), 2) == "289,67"
    assert percent(0.184, 1) == "18,4 %"
    assert amount_text(10.54) == "10,5"


@pytest.mark.usefixtures("spanish")
def test_spanish_sets_thousands_apart_by_a_space_that_no_line_breaks_at():
    """Ortografía de la lengua española (2010), from memory: a space, from five digits on."""
    assert number_text(Decimal("14312.5")) == "14\N{NO-BREAK SPACE}312,5"
    assert number_text(Decimal(2893)) == "2893"


@pytest.mark.usefixtures("spanish")
def test_spanish_dates_and_times():
    """Source: CLDR of plain ``es``, through Babel."""
    assert day_text(date(2027, 5, 8)) == "8 de mayo de 2027"
    assert moment_words(datetime(2027, 5, 8, 14, 5)) == "8 may 2027 14:05"  # noqa: DTZ001


@pytest.mark.usefixtures("spanish")
def test_spanish_plurals():
    assert [plural(n, "pair") for n in (0, 1, 2, 1_000_000)] == [
        "0 parejas",
        "1 pareja",
        "2 parejas",
        "1000000 parejas",
    ]


@pytest.mark.usefixtures("spanish")
def test_a_code_that_looks_like_a_number_inside_words_is_left_alone():
    assert digits("C1.2") == "C1.2"
    assert say("{item} has no key", item="C1.2") == "C1.2 has no key"


def test_english_is_written_as_before():
    assert [number_text(2.5), digits("1,609.5")] == ["2.5", "1,609.5"]
    assert own_name("en") == "English"


def test_a_language_holds_its_decimal_mark_inside_its_block_only():
    with spoken_in(Language("xx", NullTranslations(), ",")):
        assert digits("0.5") == "0,5"
    assert digits("0.5") == "0.5"


def test_the_catalogues_are_part_of_the_package():
    """An installed wheel has them: they lie inside the package, by a pattern of package data."""
    text = (Path(translations.ROOT) / "pyproject.toml").read_text(encoding="utf-8")

    assert '"**/*.po"' in text
