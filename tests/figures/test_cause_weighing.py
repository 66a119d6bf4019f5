"""How facts become points and points a strength; the table here is made up."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hatchbook.figures.cause_results import CauseFigures, Fact, SeenSign, Strength
from hatchbook.figures.causes import weigh
from hatchbook.trade.cause_codes import CauseSign, FactCode, FactKind, NotRecorded
from hatchbook.trade.causes import CauseTable, read_causes

SIGNS = """
[[signs]]
code = "wet"
links = [{ causes = ["too_humid"], mark = "published", source = "someone", statement = "moist" }]
[[signs]]
code = "rotten"
links = [{ causes = ["dirt"], mark = "from_memory", statement = "dirty" }]
"""
EVIDENCE = """
[ranks]
strong = { points_for = 4, net = 3, kinds = 2 }
some = { points_for = 2, net = 2, kinds = 1 }
weak = { points_for = 1, net = 1, kinds = 1 }
[[causes]]
code = "too_humid"
not_recorded = ["fresh_air"]

[[causes.rules]]
fact = "late_loss_chance"
for = [{ below = 0.1, points = 1 }]
against = [{ above = 0.4, points = 1 }]
supports = true
mark = "ours"
[[causes.rules]]
fact = "humidity_before_lockdown"
for = [{ at_least = 3.0, points = 2 }, { above = 0.0, points = 1 }]
against = [{ at_most = 0.0, points = 1 }]
mark = "ours"
[[causes.rules]]
fact = "wet"
for = [{ at_least = 0.5, points = 2 }]
against = [{ at_most = 0.0, points = 1 }]
fewest = 2
fewest_of = 3
mark = "ours"
[[causes.rules]]
fact = "hygrometer_checked"
mark = "ours"
[[causes]]
code = "dirt"
rules = [{ fact = "rotten", for = [{ at_least = 0.1, points = 3 }], mark = "ours" }]
[[causes]]
code = "shipping"
needs = "shipped"
rules = [{ fact = "shipped", for = [{ at_least = 1.0, points = 1 }], mark = "ours" }]
"""
WET = (SeenSign(CauseSign.WET, 3, 4),)


@pytest.fixture
def table(tmp_path: Path) -> CauseTable:
    signs, evidence = tmp_path / "signs.toml", tmp_path / "evidence.toml"
    signs.write_text(SIGNS, encoding="utf-8")
    evidence.write_text(EVIDENCE, encoding="utf-8")
    return read_causes(signs, evidence)


def facts(**values: Any) -> dict[FactCode, Fact]:
    """The facts asked here: condition humidity, sign wet (with count and of), history late_loss_chance."""
    kinds = {"wet": FactKind.SIGN, "late_loss_chance": FactKind.HISTORY, "rotten": FactKind.SIGN}
    known = ("humidity_before_lockdown", "late_loss_chance", "hygrometer_checked", "rotten", "shipped")
    found = {
        FactCode(name): Fact(FactCode(name), kinds.get(name, FactKind.CONDITION), values.get(name))
        for name in known
    }
    count, of = values.get("wet", (0, 0))
    share = count / of if of else None
    found[FactCode.WET] = Fact(FactCode.WET, FactKind.SIGN, share, count=count, of=of)
    return found


def cause(table: CauseTable, code: int = 0, signs: Any = WET, **values: Any) -> CauseFigures:
    weighed = weigh(table.causes[code], table, facts(**values), signs, "hen")
    assert weighed is not None
    return weighed


def test_condition_and_sign_together_are_strong(table: CauseTable) -> None:
    found = cause(table, humidity_before_lockdown=5.0, wet=(3, 4))
    assert (found.strength, found.level, found.points_for, found.net) == (Strength.STRONG, 3, 4, 4)
    assert [item.code for item in found.for_] == [FactCode.HUMIDITY_BEFORE_LOCKDOWN, FactCode.WET]


def test_many_points_of_one_kind_are_not_strong(table: CauseTable) -> None:
    assert cause(table, humidity_before_lockdown=5.0).strength is Strength.SOME


def test_a_little_over_is_weak(table: CauseTable) -> None:
    assert cause(table, humidity_before_lockdown=0.5).strength is Strength.WEAK


def test_what_speaks_against_takes_away(table: CauseTable) -> None:
    found = cause(table, humidity_before_lockdown=0.5, wet=(0, 4))
    assert (found.strength, found.net) == (Strength.UNLIKELY, 0)
    assert [item.code for item in found.against] == [FactCode.WET]


def test_one_wet_egg_is_no_sign_and_two_opened_eggs_no_want_of_one(table: CauseTable) -> None:
    assert cause(table, wet=(1, 1)).points_for == 0
    assert cause(table, wet=(0, 2)).points_against == 0


def test_more_losses_than_usual_count_only_beside_something_else(table: CauseTable) -> None:
    assert cause(table, late_loss_chance=0.02).strength is Strength.NOT_KNOWN
    assert cause(table, late_loss_chance=0.02, humidity_before_lockdown=0.5).points_for == 2
    assert cause(table, late_loss_chance=0.6).points_against == 1


def test_what_is_not_known_is_told_and_nothing_known_is_no_judgement(table: CauseTable) -> None:
    found = cause(table)
    assert found.strength is Strength.NOT_KNOWN
    assert {item.code for item in found.unknown} == {
        FactCode.LATE_LOSS_CHANCE,
        FactCode.HUMIDITY_BEFORE_LOCKDOWN,
        FactCode.WET,
        FactCode.HYGROMETER_CHECKED,
    }
    assert found.not_recorded == (NotRecorded.FRESH_AIR,)


def test_a_question_that_does_not_arise_is_not_unknown(table: CauseTable) -> None:
    given = facts()
    given[FactCode.WET] = Fact(FactCode.WET, FactKind.SIGN, None, applies=False)
    found = weigh(table.causes[0], table, given, WET, "hen")
    assert found is not None
    assert FactCode.WET not in {item.code for item in found.unknown}


def test_what_is_known_from_memory_alone_stays_weak(table: CauseTable) -> None:
    found = cause(table, 1, (SeenSign(CauseSign.ROTTEN, 5, 10),), rotten=0.5)
    assert (found.points_for, found.strength, found.memory_alone) == (3, Strength.WEAK, True)


def test_a_cause_without_a_sign_is_not_considered(table: CauseTable) -> None:
    rotten = (SeenSign(CauseSign.ROTTEN, 5, 10),)
    assert weigh(table.causes[0], table, facts(humidity_before_lockdown=9.0), rotten, "hen") is None


def test_eggs_that_were_not_shipped_did_not_suffer_from_it(table: CauseTable) -> None:
    assert weigh(table.causes[2], table, facts(shipped=0.0), WET, "hen") is None


def test_what_a_cause_explains_names_who_says_so(table: CauseTable) -> None:
    (sign,) = cause(table, wet=(3, 4)).explains
    assert (sign.code, sign.count, sign.links[0].source) == (CauseSign.WET, 3, "someone")
