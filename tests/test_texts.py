"""The program's texts can all be translated, and every plural has its English forms."""

from __future__ import annotations

import importlib.util
import sys
import xml.etree.ElementTree as ElementTree
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parent.parent
ENGLISH = ROOT / "resources" / "translations" / "hatchbook_en.ts"


def load_collector() -> ModuleType:
    spec = importlib.util.spec_from_file_location("texts", ROOT / "packaging" / "texts.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["texts"] = module
    spec.loader.exec_module(module)
    return module


texts = load_collector()


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("class Page:\n def f(self): self.tr('Set')", ("Page", "Set", "", False)),
        ("class Page:\n def f(self): self.tr('%n egg(s)', '', n)", ("Page", "%n egg(s)", "", True)),
        ("class Page:\n def f(self): self.tr('Set', 'a verb')", ("Page", "Set", "a verb", False)),
        ("QCoreApplication.translate('Words', '%n day(s)', None, n)", ("Words", "%n day(s)", "", True)),
        ("QCoreApplication.translate('Words', '%Ln day(s)', '', n)", ("Words", "%Ln day(s)", "", True)),
        ("QCoreApplication.translate('Words', '%n day(s)', n=n)", ("Words", "%n day(s)", "", True)),
        ("C = 'Words'\ndef f(): QCoreApplication.translate(C, 'a' ' b')", ("Words", "a b", "", False)),
        ("X = QT_TRANSLATE_NOOP('Actions', '&Undo')", ("Actions", "&Undo", "", False)),
    ],
)
def test_a_text_is_collected(source: str, expected: tuple[str, str, str, bool]) -> None:
    (found,) = texts.texts_of(source, "made_up.py")
    assert (found.context, found.text, found.comment, found.plural) == expected


@pytest.mark.parametrize(
    ("source", "reason"),
    [
        ("class Page:\n def f(self): self.tr(f'{n} eggs')", "made_up.py:2: a text that is put together"),
        ("class Page:\n def f(self): self.tr('eggs: ' + n)", "put together"),
        ("def f(page): page.tr('Set')", "no class around"),
        ("QCoreApplication.translate('Words', '%n day(s)')", "belong together"),
        ("QCoreApplication.translate('Words', '%Ln day(s)')", "belong together"),
        ("QCoreApplication.translate('Words', 'days', '', n)", "belong together"),
    ],
)
def test_a_text_that_no_translator_would_see_is_an_error(source: str, reason: str) -> None:
    with pytest.raises(texts.UnreadableTextError, match=reason):
        list(texts.texts_of(source, "made_up.py"))


@pytest.mark.parametrize(
    "source", ["painter.translate(1, 2)", "QCoreApplication.translate(C, spec.text)", "label.setText('x')"]
)
def test_what_is_no_text_is_passed_over(source: str) -> None:
    assert list(texts.texts_of(source, "made_up.py")) == []


@pytest.mark.parametrize(
    ("text", "forms"),
    [
        ("%n egg(s) set", ("%n egg set", "%n eggs set")),
        ("%n batch(es)", ("%n batch", "%n batches")),
        ("%n of the eggs", ("%n of the eggs", "%n of the eggs")),
    ],
)
def test_a_marked_ending_gives_both_english_forms_and_none_the_same(
    text: str, forms: tuple[str, str]
) -> None:
    assert texts.english_forms(text) == forms


def test_every_plural_of_the_program_has_its_english_forms() -> None:
    wanted = {
        (text.context, text.text)
        for path in (ROOT / "hatchbook").rglob("*.py")
        for text in texts.texts_of(path.read_text(encoding="utf-8"), str(path))
        if text.plural
    }
    have = {
        (context.findtext("name"), message.findtext("source"))
        for context in ElementTree.parse(ENGLISH).iter("context")
        for message in context.iter("message")
        if all(form.text for form in message.iter("numerusform"))
    }
    assert wanted - have == set(), "run packaging/translate, and fill in what it could not"


def test_a_modules_own_shorthand_is_read_with_its_context() -> None:
    source = """
def _tr(text, n=-1):
    return QCoreApplication.translate("Lines", text, "", n)

def sentence(count):
    return _tr("Set %n egg(s)", count) + _tr("Batch closed")
"""
    found = {(text.context, text.text, text.plural) for text in texts.texts_of(source, "lines.py")}
    assert found == {("Lines", "Set %n egg(s)", True), ("Lines", "Batch closed", False)}
