"""Collects the texts of the program for `pyside6-lupdate`, and fills in English plurals.

    texts.py collect FOLDER   writes into FOLDER one small source file a module, with its texts only
    texts.py plurals FILE.ts  gives "%n egg(s)" its English forms "%n egg" and "%n eggs", where none stand yet

lupdate reads Python itself, but (in 6.11) takes a plural for a plain text when the call is
`QCoreApplication.translate(..., n)`, knows no context that is a constant, and says nothing of a text it cannot
read. Here such a text is an error.
"""

from __future__ import annotations

import ast
import json
import re
import sys
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent


@dataclass(frozen=True)
class Text:
    """One text of the program; `plural` when it comes with a count."""

    context: str
    text: str
    comment: str
    plural: bool

    def as_call(self) -> str:
        words = [json.dumps(word, ensure_ascii=False) for word in (self.context, self.text, self.comment)]
        return f"QCoreApplication.translate({', '.join(words)}{', 0' if self.plural else ''})\n"


class UnreadableTextError(Exception):
    """A text that cannot be collected: `file:line` and what is wrong."""


def texts_of(source: str, name: str) -> Iterator[Text]:
    """The texts of one module. UnreadableTextError on a text no translator would ever see."""
    tree = ast.parse(source)
    constants = {
        target.id: node.value.value
        for node in tree.body
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant)
        for target in node.targets
        if isinstance(target, ast.Name) and isinstance(node.value.value, str)
    }

    shorthand = _shorthand_context(tree)

    def word(node: ast.expr) -> str | None:
        if isinstance(node, ast.Name):
            return constants.get(node.id)
        return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None

    def read(call: ast.Call, owner: str | None) -> Text | None:
        called = ast.unparse(call.func)
        arguments = list(call.args)
        plain = False
        if called in ("QCoreApplication.translate", "QT_TRANSLATE_NOOP"):
            context = word(arguments.pop(0))
        elif called == "_tr" and shorthand is not None:
            context, plain = shorthand, True
        elif called.endswith(".tr") or called == "QT_TR_NOOP":
            context = owner
        else:
            return None

        def unreadable(reason: str) -> UnreadableTextError:
            return UnreadableTextError(f"{name}:{call.lineno}: {reason}: {ast.unparse(call)}")

        text = word(arguments[0])
        if text is None:
            # A name may stand for a text that QT_TRANSLATE_NOOP marks elsewhere; a text put together may not.
            if isinstance(arguments[0], ast.Name | ast.Attribute | ast.Subscript | ast.Call):
                return None
            raise unreadable("a text that is put together cannot be translated")
        if context is None:
            raise unreadable("the context is not a text, or there is no class around")
        named = {keyword.arg: keyword.value for keyword in call.keywords}
        if plain:
            # The shorthand takes the count where translate takes the comment.
            comment, plural = None, len(arguments) > 1
        else:
            comment = arguments[1] if len(arguments) > 1 else named.get("disambiguation")
            plural = len(arguments) > 2 or "n" in named
        # %Ln: the count as the locale groups it.
        if plural != bool(re.search("%L?n", text)):
            raise unreadable("%n and a count belong together")
        return Text(context, text, (word(comment) if comment else None) or "", plural)

    def visit(node: ast.AST, owner: str | None) -> Iterator[Text]:
        if isinstance(node, ast.ClassDef):
            owner = node.name
        if isinstance(node, ast.Call) and (text := read(node, owner)):
            yield text
        for child in ast.iter_child_nodes(node):
            yield from visit(child, owner)

    yield from visit(tree, None)


def _shorthand_context(tree: ast.Module) -> str | None:
    """The context of a module's own ``_tr(text, n)``, which hands its text to ``QCoreApplication.translate``."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef) and node.name == "_tr":
            for call in ast.walk(node):
                if isinstance(call, ast.Call) and ast.unparse(call.func) == "QCoreApplication.translate":
                    context = call.args[0]
                    if isinstance(context, ast.Constant) and isinstance(context.value, str):
                        return context.value
    return None


def english_forms(text: str) -> tuple[str, str]:
    """The singular and the plural of a text that marks its ending: "%n egg(s)", "%n batch(es)".

    A text that marks none is the same for one and for many: "%n running".
    """
    return re.sub(r"(?<=\w)\((s|es)\)", "", text), re.sub(r"(?<=\w)\((s|es)\)", r"\1", text)


def collect(folder: Path) -> int:
    problems = []
    for path in sorted((ROOT / "hatchbook").rglob("*.py")):
        place = path.relative_to(ROOT)
        try:
            calls = [text.as_call() for text in texts_of(path.read_text(encoding="utf-8"), str(place))]
        except UnreadableTextError as error:
            problems.append(str(error))
            continue
        if calls:
            target = folder / place
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text("".join(calls), encoding="utf-8")
    sys.stderr.writelines(f"{problem}\n" for problem in problems)
    return 1 if problems else 0


def fill_plurals(path: Path) -> int:
    tree = ElementTree.parse(path)
    for message in tree.iter("message"):
        translation = message.find("translation")
        forms = english_forms(message.findtext("source", ""))
        if translation is None or translation.get("type") != "unfinished":
            continue
        for element, form in zip(translation.findall("numerusform"), forms, strict=True):
            element.text = form
        del translation.attrib["type"]
    text = ElementTree.tostring(tree.getroot(), encoding="unicode")
    path.write_text(f'<?xml version="1.0" encoding="utf-8"?>\n<!DOCTYPE TS>\n{text}\n', encoding="utf-8")
    return 0


if __name__ == "__main__":
    task, place = sys.argv[1:]
    sys.exit(collect(Path(place)) if task == "collect" else fill_plurals(Path(place)))
