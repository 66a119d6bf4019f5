"""What is refused as a programme, and what is said about it."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

import pytest
from hatchbook.trade.codes import PhaseKind
from hatchbook.trade.programmes import (
    PhaseTargets,
    Programme,
    ProgrammeError,
    ProgrammeFault,
    programme_named,
    read_species,
)
from hatchbook.trade.resources import resource_path
from hypothesis import given
from hypothesis import strategies as st


def hen() -> Programme:
    programme = programme_named("hen")
    assert programme is not None
    return programme


def table(**changes: Any) -> dict[str, Any]:
    """The table of a hen's programme, changed in some entries."""
    return {**json.loads(hen().to_json()), **changes}


def phase_table(index: int, **changes: Any) -> dict[str, Any]:
    whole = table()
    whole["phases"][index].update(changes)
    return whole


@pytest.mark.parametrize(
    ("changed", "fault", "field", "words"),
    [
        (table(code=""), ProgrammeFault.MISSING, "code", "empty"),
        (table(title=3), ProgrammeFault.WRONG_KIND, "title", "A text"),
        (table(incubation_days="21"), ProgrammeFault.WRONG_KIND, "incubation_days", "A number"),
        (table(incubation_days=True), ProgrammeFault.WRONG_KIND, "incubation_days", "A number"),
        (table(incubation_days=10**400), ProgrammeFault.OUT_OF_RANGE, "incubation_days", "too large"),
        (table(incubation_days=0), ProgrammeFault.OUT_OF_RANGE, "incubation_days", "not 0"),
        (table(incubation_days=22), ProgrammeFault.NOT_JOINED, "phases[1].days", "ends on day 21"),
        (table(phases=[]), ProgrammeFault.NOT_JOINED, "phases", "lockdown phase last"),
        (table(phases={}), ProgrammeFault.WRONG_KIND, "phases", "A list"),
        (table(phases=[3]), ProgrammeFault.WRONG_KIND, "phases[0]", "A table"),
        (phase_table(0, days=[0, 18]), ProgrammeFault.NOT_JOINED, "phases[1].days", "must begin on day 18"),
        (phase_table(0, days=[1, 19]), ProgrammeFault.NOT_JOINED, "phases[0].days", "must begin on day 0"),
        (phase_table(1, days=[21, 19]), ProgrammeFault.NOT_ASCENDING, "phases[1].days", "after it begins"),
        (phase_table(0, days=[0]), ProgrammeFault.WRONG_KIND, "phases[0].days", "2 numbers"),
        (phase_table(0, kind="lockdown", turns_per_day=0), ProgrammeFault.NOT_JOINED, "phases", "first"),
        (phase_table(0, kind="brooding"), ProgrammeFault.UNKNOWN_CODE, "phases[0].kind", '"brooding"'),
        (
            phase_table(0, humidity=[40, 55, 50]),
            ProgrammeFault.NOT_ASCENDING,
            "phases[0].humidity",
            "55 % does not lie",
        ),
        (phase_table(0, humidity=[0, 45, 50]), ProgrammeFault.OUT_OF_RANGE, "phases[0].humidity", "not at 0"),
        (phase_table(1, humidity=[60, 65, 100]), ProgrammeFault.OUT_OF_RANGE, "phases[1].humidity", "100 %"),
        (
            phase_table(0, temperature_c=[99.5, 100, 100.5]),
            ProgrammeFault.OUT_OF_RANGE,
            "phases[0].temperature",
            "99.5 °C",
        ),
        (phase_table(0, turns_per_day=2.5), ProgrammeFault.WRONG_KIND, "phases[0].turns_per_day", "whole"),
        (phase_table(0, turns_per_day=49), ProgrammeFault.OUT_OF_RANGE, "phases[0].turns_per_day", "49"),
        (
            phase_table(1, turns_per_day=3),
            ProgrammeFault.OUT_OF_RANGE,
            "phases[1].turns_per_day",
            "not turned in lockdown",
        ),
        (phase_table(0, vent="3/2"), ProgrammeFault.OUT_OF_RANGE, "phases[0].vent", "3/2"),
        (phase_table(0, vent=1.5), ProgrammeFault.OUT_OF_RANGE, "phases[0].vent", "1.5"),
        (phase_table(0, humid=1), ProgrammeFault.UNKNOWN_ENTRY, "phases[0].humid", "no such entry"),
        (table(candle_days=[7, 7]), ProgrammeFault.NOT_ASCENDING, "candle_days", "grow"),
        (table(candle_days=[22]), ProgrammeFault.OUT_OF_RANGE, "candle_days", "22"),
        (table(weigh_days=[-1]), ProgrammeFault.OUT_OF_RANGE, "weigh_days", "-1"),
        (table(loss_percent=None), ProgrammeFault.MISSING, "loss_percent", "none of the three"),
        (table(loss_percent=[13, 12]), ProgrammeFault.NOT_ASCENDING, "loss_percent", "first"),
        (table(loss_percent=[12, 60]), ProgrammeFault.OUT_OF_RANGE, "loss_percent", "60 %"),
        (table(loss_day=22), ProgrammeFault.OUT_OF_RANGE, "loss_day", "21 days"),
        (table(loss_base="weighed"), ProgrammeFault.UNKNOWN_CODE, "loss_base", "laid, set"),
        (table(format=2), ProgrammeFault.UNKNOWN_CODE, "format", "newer"),
        (table(sources=[{}]), ProgrammeFault.MISSING, "sources[0].statement", "missing"),
        (
            table(sources=[{"about": "loss", "statement": "12 %", "mark": "published"}]),
            ProgrammeFault.NO_SOURCE,
            "sources[0].source",
            "has a source",
        ),
        (table(motto="damp"), ProgrammeFault.UNKNOWN_ENTRY, "motto", "no such entry"),
        ([], ProgrammeFault.WRONG_KIND, "", "A table"),
    ],
)
def test_a_programme_that_can_not_be_used_names_what_is_wrong(
    changed: object, fault: ProgrammeFault, field: str, words: str
) -> None:
    with pytest.raises(ProgrammeError) as caught:
        Programme.from_json(json.dumps(changed))
    assert (caught.value.fault, caught.value.field) == (fault, field)
    assert words in str(caught.value)


@pytest.mark.parametrize("text", ["", "{", "[" * 100_000, "\0"])
def test_what_is_no_json_is_no_programme(text: str) -> None:
    with pytest.raises(ProgrammeError, match="This is not a programme"):
        Programme.from_json(text)


def test_not_a_number_is_no_target() -> None:
    with pytest.raises(ProgrammeError) as caught:
        Programme.from_json(json.dumps(phase_table(0, humidity=[40, float("nan"), 50])))
    assert caught.value.field == "phases[0].humidity"
    with pytest.raises(ProgrammeError):
        dataclasses.replace(hen().phases[0], temperature_aim_c=float("nan"))


def test_a_programme_may_do_without_duties_and_without_a_loss() -> None:
    bare = table(candle_days=None, weigh_days=[], loss_percent=None, loss_day=None, sources=None)
    programme = Programme.from_json(json.dumps(bare))
    assert (programme.candle_days, programme.weigh_days, programme.loss_day) == ((), (), None)
    assert Programme.from_json(programme.to_json()) == programme


@given(
    st.lists(st.floats(0.01, 10), min_size=2, max_size=5),
    st.tuples(st.floats(1, 30), st.floats(30, 60), st.floats(60, 99)),
    st.text(min_size=1).filter(lambda text: bool(text.strip())),
)
def test_any_programme_of_the_breeders_own_comes_back_from_its_json(
    lengths: list[float], humidity: tuple[float, float, float], title: str
) -> None:
    edges = [0.0]
    for length in lengths:
        edges.append(edges[-1] + length)
    parts = tuple(
        PhaseTargets(
            PhaseKind.LOCKDOWN if index == len(lengths) - 1 else PhaseKind.INCUBATION,
            edges[index],
            edges[index + 1],
            *humidity,
            37.0,
            37.5,
            38.0,
        )
        for index in range(len(lengths))
    )
    own = Programme("own", "hen", title, edges[-1], parts, candle_days=(edges[1],))
    assert Programme.from_json(own.to_json()) == own


def test_a_mistake_in_a_file_is_named_with_the_file(tmp_path: Path) -> None:
    text = resource_path("species", "hen.toml").read_text(encoding="utf-8")
    broken = tmp_path / "hen.toml"
    broken.write_text(text.replace("humidity = [40, 45, 50]", "humidity = [40, 55, 50]"), encoding="utf-8")
    with pytest.raises(ProgrammeError) as caught:
        read_species(broken)
    assert caught.value.file == "hen.toml"
    assert str(caught.value) == (
        "hen.toml, programmes[0].phases[0].humidity: The aim of 55 % does not lie in a band from 40 to 50 %."
    )


def test_a_file_without_a_source_for_a_value_is_refused(tmp_path: Path) -> None:
    text = resource_path("species", "emu.toml").read_text(encoding="utf-8")
    broken = tmp_path / "emu.toml"
    broken.write_text(text.replace('about = "turning"', 'about = "candling"'), encoding="utf-8")
    with pytest.raises(ProgrammeError) as caught:
        read_species(broken)
    assert caught.value.fault is ProgrammeFault.NO_SOURCE
    assert str(caught.value) == "emu.toml, programmes[0].sources: There is no source for turning."


@pytest.mark.parametrize("content", [b"title = ", b"\xff\xfe", b""])
def test_a_file_that_is_no_species_is_named(content: bytes, tmp_path: Path) -> None:
    broken = tmp_path / "hen.toml"
    broken.write_bytes(content)
    with pytest.raises(ProgrammeError) as caught:
        read_species(broken)
    assert str(caught.value).startswith("hen.toml")
