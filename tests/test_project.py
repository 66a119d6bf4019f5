"""The project as a whole: its top level, its two commands, its wheel, and what its files may say."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import textwrap
import tomllib
import xml.etree.ElementTree as ElementTree
import zipfile
from configparser import ConfigParser
from pathlib import Path

import hatchbook
import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parent.parent
PACKAGING = ROOT / "packaging"
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "hatchbook", "resources", "tests", "packaging"}

# Texts that belong to one machine or one workplace, written so that no pattern finds this list itself.
FOREIGN = [
    r"pypi[.]org",
    r"pythonhosted[.]",
    r"deb[.]debian[.]",
    r"registry[.]npm",
    r"(?<![\w.])/(work|root|opt)/",
    r"/home/(?!breeder)\w+/",
    r"\b(sub|coding )agents?\b",
    r"\blanguage[ ]model",
    r"\bthis[ ](session|workplace)\b",
    r"\bissue[ ]#?\d",
]
LONGEST_FILE = 400
# A file may be longer only with a reason here.
LONGER: dict[str, str] = {}


def tracked(*, new: bool = True) -> list[Path]:
    """The files that git knows and, if `new`, those it would take; all files of an unpacked source."""
    git = ["git", "ls-files", "-z", "--cached", *(["--others", "--exclude-standard"] if new else [])]
    run = subprocess.run(git, cwd=ROOT, capture_output=True, text=True, check=False)
    if run.returncode:
        return [path for top in TOP_LEVEL for path in (ROOT / top).rglob("*") if path.is_file()]
    paths = [ROOT / name for name in run.stdout.split("\0") if name]
    return [path for path in paths if path.is_file()]


def project() -> dict[str, list[str]]:
    table = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return {"program": table["dependencies"], **table["optional-dependencies"]}


def test_the_top_level_is_the_one_agreed() -> None:
    tops = {path.relative_to(ROOT).parts[0] for path in tracked(new=False)}
    assert {top for top in tops if not top.startswith(".")} == TOP_LEVEL


def test_no_file_speaks_of_one_machine_or_workplace() -> None:
    found = []
    for path in tracked():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a picture, or a logger file in another encoding
        for number, line in enumerate(text.splitlines(), 1):
            found += [f"{path.relative_to(ROOT)}:{number}: {p}" for p in FOREIGN if re.search(p, line, re.I)]
    assert found == []


@pytest.mark.parametrize(
    "line",
    [
        "https://py_pi.org/simple",
        "see /wo_rk/shared",
        "a sub_agent wrote it",
        "as iss_ue 12 asks",
        "/ho_me/me/x",
    ],
)
def test_a_made_up_foreign_text_is_found(line: str) -> None:
    assert any(re.search(pattern, line.replace("_", ""), re.IGNORECASE) for pattern in FOREIGN)


def test_no_python_file_grows_past_its_seam() -> None:
    long = {
        str(path.relative_to(ROOT)): count
        for path in tracked()
        if path.suffix == ".py"
        and (count := len(path.read_text(encoding="utf-8").splitlines())) > LONGEST_FILE
    }
    assert {name: count for name, count in long.items() if name not in LONGER} == {}
    assert set(LONGER) <= set(long), "a reason is listed for a file that is short by now"


def test_the_readme_begins_with_the_job_and_gives_two_commands_that_exist() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    title, first, second, *_ = readme.split("\n\n")
    assert title == "# Hatchbook"
    assert len(first) > 400
    assert second.startswith("## ")
    commands = re.findall(r"^ {4}(packaging/\S+)", readme, re.MULTILINE)
    assert commands[:2] == ["packaging/run", "packaging/test"]
    for command in commands:
        assert (ROOT / command).stat().st_mode & 0o111, command
    assert "packaging/test" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_the_scripts_named_for_developers_exist() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = set(re.findall(r"packaging/[a-z][\w.-]*", text))
    assert {name for name in named if not (ROOT / name).exists()} == set()
    assert {f"packaging/{path.name}" for path in PACKAGING.iterdir() if path.is_file()} <= named


@pytest.mark.parametrize("script", ["setup", "run", "test", "bench", "translate", "pin"])
def test_scripts_are_sound_shell(script: str) -> None:
    run = subprocess.run(["sh", "-n", PACKAGING / script], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")


def test_every_dependency_is_pinned_to_a_version_it_allows() -> None:
    text = (PACKAGING / "constraints.txt").read_text(encoding="utf-8")
    pins = dict(line.split("==") for line in text.splitlines() if not line.startswith("#"))
    for line in [line for lines in project().values() for line in lines]:
        requirement = Requirement(line)
        assert requirement.specifier.contains(pins[canonicalize_name(requirement.name)]), line


def test_the_wheel_carries_the_resources_and_the_program(tmp_path: Path) -> None:
    code = f"from hatchling.build import build_wheel; build_wheel({str(tmp_path)!r})"
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    for path in tracked():
        place = path.relative_to(ROOT)
        if place.parts[0] == "resources":
            assert f"hatchbook/{place.as_posix()}" in names
        if place.parts[0] == "hatchbook":
            assert place.as_posix() in names
    assert not [name for name in names if name.startswith(("tests", "packaging"))]
    shared = {name.split("/data/share/")[1] for name in names if "/data/share/" in name}
    assert shared == {
        "applications/hatchbook.desktop",
        "icons/hicolor/scalable/apps/hatchbook.svg",
        "metainfo/hatchbook.metainfo.xml",
        "mime/packages/hatchbook.xml",
    }


def test_every_translation_is_compiled_and_would_go_into_the_wheel() -> None:
    for source in (ROOT / "resources" / "translations").glob("*.ts"):
        assert source.with_suffix(".qm").exists(), f"{source.name}: run packaging/translate"


def test_qt_survives_many_calls_that_return_nothing() -> None:
    """PySide6 6.12.0 on Python 3.10 and 3.11 loses a reference to None at every such call, then aborts."""
    code = """
        from PySide6.QtWidgets import QApplication, QLabel
        application = QApplication([])
        label = QLabel()
        for number in range(20_000):
            label.setText(str(number))
        print(label.text())
    """
    run = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code)], capture_output=True, text=True, check=False
    )
    assert (run.returncode, run.stdout.strip()) == (0, "19999"), run.stderr


def test_the_desktop_entry_starts_the_program_on_a_journal() -> None:
    parser = ConfigParser(interpolation=None)
    parser.optionxform = str  # type: ignore[method-assign,assignment]  # its keys are case-sensitive
    parser.read(PACKAGING / "hatchbook.desktop", encoding="utf-8")
    entry = parser["Desktop Entry"]
    assert (entry["Type"], entry["Exec"], entry["Icon"]) == ("Application", "hatchbook %f", "hatchbook")
    assert entry["MimeType"] == "application/x-hatchbook;"
    assert entry["StartupWMClass"] == "hatchbook"


def test_the_metainfo_names_the_program_its_entry_and_its_version() -> None:
    component = ElementTree.parse(PACKAGING / "hatchbook.metainfo.xml").getroot()
    assert component.tag == "component"
    assert component.findtext("id") == "hatchbook"
    assert component.findtext("launchable") == "hatchbook.desktop"
    assert component.findtext("provides/mediatype") == "application/x-hatchbook"
    version = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    newest = component.find("releases/release")
    assert newest is not None
    assert newest.get("version") == version
    assert hatchbook.__version__ == version


def test_the_file_type_is_known_by_its_ending_and_by_what_the_journal_writes() -> None:
    from hatchbook.journal.schema import APPLICATION_ID

    space = "{http://www.freedesktop.org/standards/shared-mime-info}"
    (kind,) = ElementTree.parse(PACKAGING / "hatchbook-mime.xml").getroot().findall(f"{space}mime-type")
    assert kind.get("type") == "application/x-hatchbook"
    globs = [glob.get("pattern") for glob in kind.findall(f"{space}glob")]
    assert globs == ["*.hatchbook"]
    outer = kind.find(f"{space}magic/{space}match")
    assert outer is not None
    # SQLite's file format: a text at byte 0, the application id, high byte first, at byte 68.
    assert (outer.get("offset"), outer.get("value")) == ("0", "SQLite format 3")
    inner = outer.find(f"{space}match")
    assert inner is not None
    assert (inner.get("type"), inner.get("offset")) == ("big32", "68")
    assert int(inner.get("value", "0"), 16) == APPLICATION_ID


@pytest.mark.parametrize(
    "path", sorted((ROOT / "tests" / "benchmarks").glob("bench_*.py")), ids=lambda path: path.stem
)
def test_every_benchmark_has_what_the_table_calls(path: Path) -> None:
    functions = {
        node.name
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef)
    }
    assert "run" in functions
