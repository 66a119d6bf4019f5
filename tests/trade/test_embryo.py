"""The signs of an embryo's age: scaled to other birds, and refused where the file is not right."""

from __future__ import annotations

from pathlib import Path

import pytest
from hatchbook.trade.embryo import EmbryoSign, load_embryo_stages, read_embryo_stages
from hatchbook.trade.phases import ProgrammeError, ProgrammeFault

GOOD = """
incubation_days = 21
[[tables]]
source = "A source"
mark = "published"
[[tables.days]]
day = 6
signs = ["egg_tooth", "moves"]
[[tables.days]]
day = 9
signs = ["bird_like"]
"""


def read(tmp_path: Path, text: str) -> object:
    file = tmp_path / "hen.toml"
    file.write_text(text, encoding="utf-8")
    return read_embryo_stages(file)


def test_days_of_a_hen_are_as_they_stand() -> None:
    days = load_embryo_stages().days_for(21)
    assert [day.day for day in days] == [day.hen_day for day in days]
    assert [day.day for day in days] == sorted(day.day for day in days)


def test_another_bird_comes_to_the_same_share_of_its_own_days() -> None:
    days = {day.hen_day: day for day in load_embryo_stages().days_for(28)}
    # 18 of 21 days are 24 of 28: hatch-records, "Scaled day".
    assert days[18].day == pytest.approx(24.0)
    assert EmbryoSign.GROWTH_NEARLY_DONE in days[18].signs


def test_the_signs_of_two_sources_for_one_day_stand_together() -> None:
    second = next(day for day in load_embryo_stages().days_for(21) if day.day == 2)
    assert second.signs == (
        EmbryoSign.YOLK_SAC_VESSELS,
        EmbryoSign.TURNS_ONTO_LEFT_SIDE,
        EmbryoSign.HEART_BEATS,
    )


@pytest.mark.parametrize("days", [0, -3, float("nan")])
def test_no_days_are_scaled_to_an_incubation_that_is_none(days: float) -> None:
    with pytest.raises(ValueError, match="more than 0 days"):
        load_embryo_stages().days_for(days)


def test_a_file_is_read(tmp_path: Path) -> None:
    stages = read(tmp_path, GOOD)
    assert stages.tables[0].days == (  # type: ignore[attr-defined]
        (6.0, (EmbryoSign.EGG_TOOTH, EmbryoSign.MOVES)),
        (9.0, (EmbryoSign.BIRD_LIKE,)),
    )


@pytest.mark.parametrize(
    ("old", "new", "fault", "field"),
    [
        ("incubation_days = 21", "incubation_days = 0", ProgrammeFault.OUT_OF_RANGE, "incubation_days"),
        ("day = 9", "day = 22", ProgrammeFault.OUT_OF_RANGE, "tables[0].days[1].day"),
        ("day = 9", "day = 6", ProgrammeFault.NOT_ASCENDING, "tables[0].days"),
        ('["bird_like"]', '["fish_like"]', ProgrammeFault.UNKNOWN_CODE, "tables[0].days[1].signs"),
        ('["bird_like"]', "[9]", ProgrammeFault.UNKNOWN_CODE, "tables[0].days[1].signs"),
        (
            '["bird_like"]',
            '["bird_like", "bird_like"]',
            ProgrammeFault.GIVEN_TWICE,
            "tables[0].days[1].signs",
        ),
        ('["bird_like"]', '"bird_like"', ProgrammeFault.WRONG_KIND, "tables[0].days[1].signs"),
        ('source = "A source"', 'source = ""', ProgrammeFault.MISSING, "tables[0].source"),
        ("day = 9", "day = 9\nhour = 3", ProgrammeFault.UNKNOWN_ENTRY, "tables[0].days[1].hour"),
        (GOOD, "incubation_days = 21", ProgrammeFault.MISSING, "tables"),
        (GOOD, "this is no TOML", ProgrammeFault.UNREADABLE, ""),
    ],
)
def test_a_file_that_is_not_right_is_refused_by_name(
    tmp_path: Path, old: str, new: str, fault: ProgrammeFault, field: str
) -> None:
    assert old in GOOD
    with pytest.raises(ProgrammeError) as caught:
        read(tmp_path, GOOD.replace(old, new))
    assert (caught.value.fault, caught.value.field, caught.value.file) == (fault, field, "hen.toml")
