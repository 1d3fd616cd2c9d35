"""Languages: catalogues that are whole and compiled, texts that keep their places, a language for each visitor."""

import threading

import make_catalogues
import pytest
from babel.messages.pofile import read_po

from rsdesign.core import language
from rsdesign.core.figures import figures_of
from rsdesign.core.language import LanguageError, _, checked, counted, known, listed, speaking
from rsdesign.sizing.system import STAGES


@pytest.fixture(scope="module")
def texts():
    return make_catalogues.areas()


@pytest.mark.parametrize("code", make_catalogues.LANGUAGES)
def test_catalogues_hold_every_text_of_their_areas_and_no_other(code, texts):
    """``python tests/make_catalogues.py`` brings them up to date; an area that nobody translates has none."""
    said = make_catalogues.translated(code)
    spoken = language.catalogue(code)
    for path in sorted((make_catalogues.FOLDER / code).glob("*.po")):
        with open(path, "rb") as file:
            held = [message.id for message in read_po(file, locale=code) if message.id]
        assert held == texts[path.stem], path.name
        for text in held:
            if text in said and isinstance(text, str):
                assert spoken.gettext(text) == said[text], path.name
            elif text in said:
                assert (spoken.ngettext(*text, 1), spoken.ngettext(*text, 2)) == said[text]


def test_a_text_is_found_wherever_the_project_keeps_texts(texts):
    """A check, a caution, the label of a figure and a text cell of a notebook, each in its area."""
    assert (
        "The hottest week stays clear of the {high} at which {tables.species.label} die."
        in (texts["table_checks"])
    )
    assert "Chlorine and chloramine" in texts["table_cautions"]
    assert any(figure.label in texts["sizing"] for figure in figures_of("tank", STAGES["tank"]))
    assert ("{before} or {last}") in texts["core"]
    assert texts["notebooks"]


def test_a_catalogue_is_compiled_and_read_again(tmp_path, monkeypatch):
    """One text and one counted pair, through the file that gettext reads."""
    texts, said = (
        ["{n} fish eat", ("{n} tank", "{n} tanks")],
        {
            "{n} fish eat": "{n} peces comen",
            ("{n} tank", "{n} tanks"): ("{n} estanque", "{n} estanques"),
        },
    )
    (tmp_path / "language" / "es").mkdir(parents=True)
    plain, compiled = make_catalogues.written(make_catalogues.catalogue("es", texts, said))
    (tmp_path / "language" / "es" / "core.po").write_bytes(plain)
    (tmp_path / "language" / "es" / "core.mo").write_bytes(compiled)
    monkeypatch.setattr(make_catalogues, "FOLDER", tmp_path / "language")
    monkeypatch.setattr(language, "data_folder", lambda: tmp_path)
    language.catalogue.cache_clear()
    try:
        assert make_catalogues.translated("es") == said
        with speaking("es-CO"):
            assert _("{n} fish eat", n=3) == "3 peces comen"
            assert counted("{n} tank", "{n} tanks", 1) == "1 estanque"
            assert counted("{n} tank", "{n} tanks", 0.5) == "0.5 estanques"
            assert _("not translated") == "not translated"
    finally:
        language.catalogue.cache_clear()


@pytest.mark.parametrize("code", make_catalogues.LANGUAGES)
def test_a_translation_keeps_every_place(code):
    def places(words):
        return sorted(make_catalogues.PLACES.findall(words))

    for text, said in make_catalogues.translated(code).items():
        pairs = [(text, said)] if isinstance(text, str) else list(zip(text, said, strict=True))
        for before, after in pairs:
            if "|" in before:
                assert len(places(before)) == len(places(after)), before
            else:
                assert set(places(before)) == set(places(after)), before


def test_a_language_is_of_a_visitor_not_of_the_process():
    heard = {}

    def visit(code):
        with speaking(code):
            heard[code] = _("{n} words", n=2)

    threads = [threading.Thread(target=visit, args=(code,)) for code in ("en", "qps")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert heard["en"] == "2 words"
    assert heard["qps"].startswith("⟦2 words")
    assert _("{n} words", n=2) == "2 words"


def test_a_language_that_there_is_not_is_refused_in_a_sentence():
    assert known("de", "en") == "en"
    with pytest.raises(LanguageError, match=r"^There is no language 'de'; choose one of: en .*\.$"):
        checked("de")


def test_counted_and_listed():
    assert counted("{n} tank", "{n} tanks", 1) == "1 tank"
    assert counted("{n} tank", "{n} tanks", 0) == "0 tanks"
    assert listed(["air", "pump", "tank"]) == "air, pump and tank"
    with speaking(language.PSEUDO):
        assert counted("{n} tank", "{n} tanks", 3).startswith("⟦3 tanks")
