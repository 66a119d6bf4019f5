"""The table of signs and causes: what it must hold, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.trade.cause_codes import NOT_RECORDED_SIGNS, CauseCode, CauseSign, FactCode
from hatchbook.trade.causes import CauseTable, load_causes, read_causes
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault
from hatchbook.trade.resources import resource_path
from hatchbook.trade.sources import SourceMark


@pytest.fixture
def table() -> CauseTable:
    return load_causes()


def test_every_sign_and_every_cause_stands_in_the_table_once(table: CauseTable) -> None:
    assert sorted(entry.code for entry in table.signs) == sorted(CauseSign)
    assert sorted(cause.code for cause in table.causes) == sorted(CauseCode)


def test_every_link_has_a_mark_and_what_is_published_a_source(table: CauseTable) -> None:
    for entry in table.signs:
        for link in entry.links:
            assert bool(link.source) == (link.mark is SourceMark.PUBLISHED), (entry.code, link)
            assert link.statement
    for cause in table.causes:
        for rule in cause.rules:
            assert bool(rule.source) == (rule.mark is SourceMark.PUBLISHED), (cause.code, rule.fact)


@pytest.mark.parametrize(
    ("sign", "cause"),
    [
        (CauseSign.MID_DEATHS, CauseCode.TURNING),
        (CauseSign.MID_DEATHS, CauseCode.TOO_WARM),
        (CauseSign.WET, CauseCode.TOO_COOL),
        (CauseSign.YOLK_OUTSIDE, CauseCode.DIRT),
        (CauseSign.ROTTEN, CauseCode.DIRT),
        (CauseSign.UNHEALED_NAVELS, CauseCode.TOO_WARM),
        (CauseSign.ODD_LIMBS, CauseCode.STOCK),
    ],
)
def test_what_is_known_from_memory_is_never_called_published(
    table: CauseTable, sign: CauseSign, cause: CauseCode
) -> None:
    """The rows of the diagnosis table that were recalled, not read."""
    links = table.links_of(sign, cause, "hen")
    assert links
    assert {link.mark for link in links} == {SourceMark.FROM_MEMORY}


@pytest.mark.parametrize(
    ("sign", "cause", "source"),
    [
        (CauseSign.INFERTILE, CauseCode.INFERTILITY, "Mississippi State University Extension"),
        (CauseSign.EARLY_DEATHS, CauseCode.STORAGE, "agric4profits"),
        (CauseSign.MID_DEATHS, CauseCode.STOCK, "Byerly, Titus & Ellis 1933"),
        (CauseSign.LATE_DEATHS, CauseCode.CHILLED, "Mississippi State University chart"),
        (CauseSign.LATE_DEATHS, CauseCode.TOO_HUMID, "Bruzual et al. 2000, Poult. Sci. 79:827-830"),
        (CauseSign.DRY_AND_STUCK, CauseCode.TURNING, "Penn State Extension"),
        (CauseSign.WET, CauseCode.TOO_HUMID, "Wildpro"),
        (CauseSign.LATE_HATCH, CauseCode.STORAGE, "Özlü 2021"),
        (CauseSign.DRAWN_OUT, CauseCode.VENTILATION, "University of Illinois Extension"),
    ],
)
def test_published_rows_name_who_said_it(
    table: CauseTable, sign: CauseSign, cause: CauseCode, source: str
) -> None:
    links = table.links_of(sign, cause, "hen")
    assert any(source in link.source and link.mark is SourceMark.PUBLISHED for link in links)


def test_what_is_said_of_chickens_is_not_said_of_ducks(table: CauseTable) -> None:
    assert table.links_of(CauseSign.DRY_AND_STUCK, CauseCode.TOO_DRY, "hen")
    assert table.links_of(CauseSign.DRY_AND_STUCK, CauseCode.TOO_DRY, "duck") == ()
    assert table.links_of(CauseSign.WET, CauseCode.TOO_HUMID, "duck")


def test_every_cause_can_be_reached_by_a_sign_the_journal_records(table: CauseTable) -> None:
    reached = {
        cause
        for entry in table.signs
        if entry.code not in NOT_RECORDED_SIGNS
        for link in entry.links
        for cause in link.causes
    }
    assert reached == set(CauseCode)


def test_every_fact_is_asked_by_some_rule(table: CauseTable) -> None:
    asked = {rule.fact for cause in table.causes for rule in cause.rules}
    asked |= {cause.needs for cause in table.causes if cause.needs is not None}
    assert asked == set(FactCode)


def test_no_step_speaks_for_and_against_at_once(table: CauseTable) -> None:
    for cause in table.causes:
        for rule in cause.rules:
            for value in (step / 20 for step in range(-400, 401)):
                both = [
                    any(step.holds(value) for step in steps)
                    for steps in (rule.speaks_for, rule.speaks_against)
                ]
                assert not all(both), (cause.code, rule.fact, value)


# -------------------------------------------------------------------- what is refused


def changed(tmp_path: Path, name: str, old: str, new: str) -> tuple[Path, Path]:
    paths = []
    for file in ("signs.toml", "evidence.toml"):
        text = resource_path("causes", file).read_text(encoding="utf-8")
        if file == name:
            assert old in text
            text = text.replace(old, new, 1)
        path = tmp_path / file
        path.write_text(text, encoding="utf-8")
        paths.append(path)
    return paths[0], paths[1]


@pytest.mark.parametrize(
    ("file", "old", "new", "fault"),
    [
        ("signs.toml", 'code = "wet"', 'code = "soggy"', ProgrammeFault.UNKNOWN_CODE),
        ("signs.toml", 'code = "wet"', 'code = "rotten"', ProgrammeFault.GIVEN_TWICE),
        ("signs.toml", 'source = "Wildpro", ', "", ProgrammeFault.NO_SOURCE),
        ("signs.toml", 'species = ["hen", "bantam"]', "species = [3]", ProgrammeFault.WRONG_KIND),
        ("signs.toml", "[[signs]]", "[[signs", ProgrammeFault.UNREADABLE),
        ("evidence.toml", "points = 2", "points = 9", ProgrammeFault.OUT_OF_RANGE),
        ("evidence.toml", "{ at_least = 3.0, points = 2 }", "{ points = 2 }", ProgrammeFault.MISSING),
        ("evidence.toml", 'fact = "weight_loss"', 'fact = "luck"', ProgrammeFault.UNKNOWN_CODE),
        ("evidence.toml", "net = 3", "net = 0", ProgrammeFault.NOT_ASCENDING),
        ("evidence.toml", "strong = {", "strongest = {", ProgrammeFault.MISSING),
        ("evidence.toml", "fewest = 2", "at_most = 2", ProgrammeFault.UNKNOWN_ENTRY),
    ],
)
def test_a_mistake_in_the_files_is_named(
    tmp_path: Path, file: str, old: str, new: str, fault: ProgrammeFault
) -> None:
    with pytest.raises(ProgrammeError) as error:
        read_causes(*changed(tmp_path, file, old, new))
    assert error.value.fault is fault
    assert error.value.file == file
