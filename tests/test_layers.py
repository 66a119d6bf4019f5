"""Imports run one way, and each library is used in one place: read from the source, not from a run.

trade <- journal, statistics <- figures <- exchange <- desk <- app
"""

from __future__ import annotations

import ast
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "hatchbook"

# What each part of the program may know of the others. `journal` and `statistics` do not know each other.
KNOWS = {
    "trade": {"trade"},
    "journal": {"journal", "trade"},
    "statistics": {"statistics", "trade"},
    "figures": {"figures", "journal", "statistics", "trade"},
    "exchange": {"exchange", "figures", "journal", "statistics", "trade"},
    "desk": {"desk", "exchange", "figures", "journal", "statistics", "trade"},
    # The command line without a screen.
    "commands": {"commands", "exchange", "figures", "journal", "statistics", "trade"},
    "app": {"app", "commands", "desk", "exchange", "figures", "journal", "statistics", "trade"},
    "__main__": {"app", "__main__"},
    "__init__": set(),
}

# Where a library may be used. A place is a part, or a module or folder in it.
PLACES = {
    "sqlite3": {"journal"},
    "sqlite_utils": {"journal"},
    "filelock": {"journal"},
    "PySide6": {"desk", "app", "exchange.sheets"},
    "shiboken6": {"desk"},
    "pyqtgraph": {"desk.charts"},
    "numpy": {"journal", "statistics", "figures", "exchange", "desk"},
    "scipy": {"statistics"},
    "openpyxl": {"exchange"},
    "platformdirs": {"journal", "desk", "app"},
    "tzdata": set(),  # data only: the standard library finds it
}
# Slow to import, so only inside the functions that need them.
LAZY = {"scipy", "openpyxl"}


@dataclass(frozen=True)
class Import:
    """One imported module: where, what, and whether it is imported as soon as its module is."""

    importer: str
    line: int
    name: str
    at_once: bool


def imports_of(source: str, importer: str, is_package: bool) -> Iterator[Import]:
    """Every import in a source text; `importer` is the module's dotted name below `hatchbook`."""
    package = ["hatchbook", *importer.split(".")]
    if not is_package:
        package.pop()

    def visit(node: ast.AST, at_once: bool) -> Iterator[Import]:
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield Import(importer, node.lineno, alias.name, at_once)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            stem = ".".join([*base, *([node.module] if node.module else [])])
            # `from hatchbook import desk` imports the part, `from hatchbook.desk import x` is in it anyway.
            names = [f"{stem}.{alias.name}" for alias in node.names] if stem == "hatchbook" else [stem]
            for name in names:
                yield Import(importer, node.lineno, name, at_once)
        elif (
            isinstance(node, ast.Call)
            and ast.unparse(node.func) in ("import_module", "importlib.import_module", "__import__")
            and node.args
            and isinstance(node.args[0], ast.Constant)
        ):
            yield Import(importer, node.lineno, str(node.args[0].value), at_once)
        inside = at_once and not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        if isinstance(node, ast.If) and ast.unparse(node.test).endswith("TYPE_CHECKING"):
            inside = False
        for child in ast.iter_child_nodes(node):
            yield from visit(child, inside)

    yield from visit(ast.parse(source), True)


def offences(found: Import) -> Iterator[str]:
    """What is wrong with an import, in words."""
    where = f"hatchbook.{found.importer}, line {found.line}"
    part = found.importer.split(".")[0]
    top, *rest = found.name.split(".")
    if top == "hatchbook":
        other = rest[0] if rest else ""
        if other in KNOWS and other not in KNOWS[part]:
            yield f"{where}: {part} may not know {other}"
        return
    if top in sys.stdlib_module_names and top not in PLACES:
        return
    if top not in PLACES:
        yield f"{where}: {top} is used nowhere in the program; give it a place in this test first"
    elif not any(f"{found.importer}.".startswith(f"{place}.") for place in PLACES[top]):
        yield f"{where}: {top} belongs to {', '.join(sorted(PLACES[top])) or 'no module'}"
    elif top in LAZY and found.at_once:
        yield f"{where}: {top} is slow to import; import it in the function that needs it"


def module_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" and len(parts) > 1 else parts)


SOURCES = sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", SOURCES, ids=module_of)
def test_imports_run_one_way(path: Path) -> None:
    module = module_of(path)
    assert module.split(".")[0] in KNOWS, f"{module}: say in this test what it may know"
    found = imports_of(path.read_text(encoding="utf-8"), module, path.name == "__init__.py")
    assert [offence for one in found for offence in offences(one)] == []


@pytest.mark.parametrize(
    ("importer", "source", "offence"),
    [
        ("trade.species", "import hatchbook.journal", "trade may not know journal"),
        ("statistics.rates", "from hatchbook.journal import Journal", "statistics may not know journal"),
        ("journal.store", "from ..statistics import averages", "journal may not know statistics"),
        ("figures.batch", "from hatchbook import desk", "figures may not know desk"),
        ("exchange.sheets", "from hatchbook.desk.theme import TOKENS", "exchange may not know desk"),
        ("desk.window", "import hatchbook.app", "desk may not know app"),
        ("desk.window", "def f():\n    import sqlite3", "sqlite3 belongs to journal"),
        ("figures.batch", "from sqlite_utils import Database", "sqlite_utils belongs to journal"),
        ("exchange.logger_file", "from PySide6.QtCore import QDate", "PySide6 belongs to"),
        ("desk.pages.journal", "import pyqtgraph as pg", "pyqtgraph belongs to desk.charts"),
        ("desk.chartsmith", "import pyqtgraph as pg", "pyqtgraph belongs to desk.charts"),
        ("trade.units", "import numpy", "numpy belongs to"),
        ("figures.season", "def f():\n    from scipy import stats", "scipy belongs to statistics"),
        ("statistics.comparison", "from scipy import stats", "scipy is slow to import"),
        ("statistics.comparison", "class A:\n    import scipy.stats", "scipy is slow to import"),
        (
            "statistics.past",
            "try:\n    import scipy\nexcept ImportError:\n    pass",
            "scipy is slow to import",
        ),
        ("desk.window", "import requests", "requests is used nowhere"),
        ("statistics.rates", "import importlib\nimportlib.import_module('PySide6')", "PySide6 belongs to"),
        (
            "statistics.rates",
            "if TYPE_CHECKING:\n    from hatchbook.figures import X",
            "statistics may not know figures",
        ),
    ],
)
def test_a_made_up_offender_is_found(importer: str, source: str, offence: str) -> None:
    found = [text for one in imports_of(source, importer, False) for text in offences(one)]
    assert len(found) == 1
    assert offence in found[0]


@pytest.mark.parametrize(
    ("importer", "source"),
    [
        ("figures.batch", "from hatchbook.journal import Journal\nfrom hatchbook.trade import codes"),
        ("journal.store", "import sqlite3\nfrom . import schema\nfrom ..trade.codes import DutyKind"),
        ("statistics.comparison", "def f():\n    from scipy import stats"),
        ("statistics.comparison", "if TYPE_CHECKING:\n    import scipy"),
        ("exchange.sheets", "from PySide6.QtGui import QPainter"),
        ("desk.charts.pane", "import pyqtgraph as pg"),
        ("desk.window", "from hatchbook import __version__\nimport json, zoneinfo"),
        ("app", "from hatchbook.desk.window import Window"),
    ],
)
def test_an_honest_module_passes(importer: str, source: str) -> None:
    assert [text for one in imports_of(source, importer, False) for text in offences(one)] == []


def test_only_the_charts_import_what_is_slow() -> None:
    modules = [f"hatchbook.{module_of(path)}" for path in SOURCES]
    wanted = [name for name in modules if not name.startswith("hatchbook.desk.charts") and "__" not in name]
    assert "hatchbook.app" in wanted
    code = f"""
        import importlib, sys
        for name in {wanted}:
            importlib.import_module(name)
        print(sorted({{"pyqtgraph", "scipy", "pandas"}} & set(sys.modules)))
    """
    run = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code)], capture_output=True, text=True, check=False
    )
    assert run.stdout.strip() == "[]", run.stdout + run.stderr
