"""The demo's story as a breeder meets it: what runs, what drifted, what is missing, what contradicts itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

import numpy as np
import pytest
from hatchbook.figures import BatchFigures, BatchState, batch_figures, journal_lines, machine_guide, overview
from hatchbook.journal import Batch, Journal
from hatchbook.statistics.drift import DriftVerdict
from hatchbook.trade.codes import EventKind, Fate, MachineKind
from hatchbook.trade.instants import DAY_S

Batches = Callable[[str], list[Batch]]


def drifted(batches: Batches) -> Batch:
    return batches("Brook hens")[-1]


def events(demo: Journal, batch: Batch, kind: EventKind) -> list[tuple[int, object]]:
    found = demo.events.of_batch(batch.uid, [batch.machine], batch.set_at, batch.closed_at or 2**40)
    return [(event.at, event) for event in found if event.kind is kind]


# ---------------------------------------------------------------- the whole


def test_it_is_a_sound_journal_that_says_it_is_a_demo(demo: Journal) -> None:
    report = demo.check()
    assert [str(problem) for problem in (*report.problems, *report.remarks)] == []
    assert demo.settings.is_demo


def test_its_size_is_that_of_a_small_holding_over_five_seasons(demo: Journal, now: int) -> None:
    counts = demo.check().counts
    assert 35_000 < counts["reading"] < 70_000
    assert counts["machine"] == 2
    assert counts["pen"] == 3
    seasons = overview(demo, now).seasons
    assert [group.season for group in seasons] == [2026, 2025, 2024, 2023, 2022]
    states = Counter(batch.state for group in seasons for batch in group.batches)
    assert states[BatchState.RUNNING] == 2
    assert states[BatchState.PLANNED] == 1
    assert states[BatchState.CLOSED] == 20 + len(demo.past_batches.all())


def test_machines_and_pens_are_as_told(demo: Journal) -> None:
    dairy, pantry = demo.machines.all()
    assert (dairy.kind, dairy.tray_rows, dairy.tray_columns) == (MachineKind.FORCED_AIR, 6, 7)
    assert (pantry.kind, pantry.places < dairy.places) == (MachineKind.STILL_AIR, True)
    assert [len(demo.machines.channels(one.uid)) for one in (dairy, pantry)] == [4, 3]
    for pen in demo.pens.all():
        sexes = Counter(bird.sex for bird in demo.pens.members(pen.uid))
        assert sexes["male"] == 1
        assert sexes["female"] >= 3
    species = {batch.species for batch in demo.batches.all()}
    assert species == {"hen", "duck", "coturnix"}


def test_labels_count_the_batches_of_a_season_in_order(demo: Journal) -> None:
    labels = [batch.label for batch in reversed(demo.batches.all())]
    assert labels == sorted(labels)
    assert labels[-1] == "26-06"


def test_one_running_batch_is_at_half_and_one_near_lockdown(figures: list[BatchFigures]) -> None:
    hens, ducks = [one for one in figures if one.state is BatchState.RUNNING]
    assert (hens.batch.species, ducks.batch.species) == ("hen", "duck")
    assert 10.8 < hens.day < 11.9
    assert 0 < ducks.lockdown_day - ducks.day < 1.3


# ---------------------------------------------------------------- history


def test_only_the_last_few_deeds_can_be_undone(demo: Journal, now: int) -> None:
    steps = demo.history.steps()
    assert {step.code for step in steps} == {"event_added", "weighed"}
    assert 2 <= len(steps) <= 4
    assert [step.at for step in steps] == sorted((step.at for step in steps), reverse=True)
    assert now - 3 * DAY_S < steps[0].at <= now


def test_the_last_deeds_come_off_and_on_again(make_demo: Callable[..., Journal]) -> None:
    journal = make_demo()
    before = journal.check().counts
    undone = 0
    while journal.history.next_undo() is not None:
        journal.undo()
        undone += 1
    after = journal.check()
    assert after.sound
    assert after.counts["weighing"] == before["weighing"] - 2
    assert after.counts["event"] == before["event"] - 2
    for _ in range(undone):
        journal.redo()
    assert journal.check().counts == before


# ---------------------------------------------------------------- humidity


def test_the_drifted_batch_is_too_moist_since_day_six_and_nothing_else_is_wrong_with_it(
    demo: Journal, batches: Batches, now: int
) -> None:
    incubation, lockdown = batch_figures(demo, drifted(batches).uid, now).phases
    assert incubation.humidity is not None
    assert incubation.humidity.verdict is DriftVerdict.HIGH
    assert incubation.humidity.since_day == 6
    assert lockdown.humidity is not None
    assert lockdown.humidity.verdict is DriftVerdict.ON_AIM
    for phase in (incubation, lockdown):
        assert phase.temperature is not None
        assert phase.temperature.verdict is DriftVerdict.ON_AIM


def test_the_cause_of_the_drift_stands_in_its_journal(demo: Journal, batches: Batches, now: int) -> None:
    batch = drifted(batches)
    lines = journal_lines(demo, batch.uid, now)
    pushed = [line for line in lines if line.values.get("vent") == 0.25]
    assert len(pushed) == 1
    assert 5.5 < (pushed[0].at - batch.set_at) / DAY_S < 6.1
    assert pushed[0].values["vent_before"] > 0.5
    told = [line for line in lines if "forgotten" in str(line.values.get("text"))]
    assert len(told) == 1
    assert told[0].at > pushed[0].at + 10 * DAY_S


def test_the_drifted_batch_lost_too_little_weight_and_many_late(
    figures: list[BatchFigures], batches: Batches
) -> None:
    uid = drifted(batches).uid
    hens = [one for one in figures if one.batch.species == "hen" and one.state is BatchState.CLOSED]
    late = {one.batch.uid: one.counts.get(Fate.LATE_DEAD, 0) / len(one.eggs) for one in hens}
    assert max(late, key=lambda one: late[one]) == uid
    weight = next(one.weight for one in hens if one.batch.uid == uid)
    assert weight is not None
    assert weight.mean_loss_percent < 11.5


@pytest.mark.parametrize(
    ("name", "season", "verdict"),
    [("Brook hens", 2024, DriftVerdict.SLIDING), ("Orchard hens", 2025, DriftVerdict.SWINGING)],
)
def test_one_batch_slid_dry_and_one_swung(
    demo: Journal, batches: Batches, now: int, name: str, season: int, verdict: DriftVerdict
) -> None:
    batch = next(one for one in batches(name) if one.label.startswith(f"{season % 100}-"))
    humidity = batch_figures(demo, batch.uid, now).phases[0].humidity
    assert humidity is not None
    assert humidity.verdict is verdict
    band = demo.batches.phases(batch.uid)[0]
    assert band.humidity_low < humidity.mean < band.humidity_high


def test_most_phases_are_on_their_aim(figures: list[BatchFigures]) -> None:
    verdicts = Counter(
        phase.humidity.verdict for one in figures for phase in one.phases if phase.humidity is not None
    )
    assert verdicts[DriftVerdict.ON_AIM] > 0.8 * verdicts.total()


# ---------------------------------------------------------------- events that act


def test_the_power_cut_cools_the_running_batch(demo: Journal, figures: list[BatchFigures]) -> None:
    batch = next(one.batch for one in figures if one.state is BatchState.RUNNING)
    [(at, event)] = events(demo, batch, EventKind.POWER_CUT)
    probe = demo.probes.get(batch.probe or "")
    ends_at = event.ends_at  # type: ignore[attr-defined]
    during = demo.readings.series(probe.number, at, ends_at + 600)
    before = demo.readings.series(probe.number, at - 3 * 3600, at)
    assert during.temperature_c.min() < 33 < 37 < before.temperature_c.min()


def test_the_logger_was_silent_for_eleven_hours_and_a_note_says_so(
    demo: Journal, figures: list[BatchFigures]
) -> None:
    batch = next(one.batch for one in figures if one.state is BatchState.RUNNING)
    probe = demo.probes.get(batch.probe or "")
    at = demo.readings.series(probe.number, batch.set_at, 2**40).at
    longest = int(np.argmax(np.diff(at)))
    assert at[longest + 1] - at[longest] == pytest.approx(11 * 3600, abs=900)
    notes = [event_at for event_at, _ in events(demo, batch, EventKind.NOTE)]
    assert any(abs(noted - at[longest + 1]) < 3600 for noted in notes)


def test_opening_the_lid_for_a_candling_lets_moisture_out(demo: Journal, batches: Batches) -> None:
    batch = batches("Lower yard hens")[-2]
    probe = demo.probes.get(batch.probe or "")
    for candling in demo.candlings.of_batch(batch.uid)[:2]:
        before = demo.readings.series(probe.number, candling.at - 3600, candling.at)
        after = demo.readings.series(probe.number, candling.at, candling.at + 1800)
        assert after.humidity.min() < before.humidity.mean() - 5


def test_opening_the_vent_dries_and_filling_channels_moistens(demo: Journal, batches: Batches) -> None:
    batch = drifted(batches)
    probe = demo.probes.get(batch.probe or "")
    pushed = next(at for at, event in events(demo, batch, EventKind.VENT) if event.vent == 0.25)  # type: ignore[attr-defined]
    before = demo.readings.series(probe.number, pushed - 6 * 3600, pushed).humidity.mean()
    after = demo.readings.series(probe.number, pushed + 3600, pushed + 7 * 3600).humidity.mean()
    assert after > before + 6
    filled = next(at for at, event in events(demo, batch, EventKind.WATER) if event.channels_filled == 4)  # type: ignore[attr-defined]
    before = demo.readings.series(probe.number, filled - 6 * 3600, filled).humidity.mean()
    after = demo.readings.series(probe.number, filled + 3600, filled + 7 * 3600).humidity.mean()
    assert after > before + 2


def test_ducks_are_misted(demo: Journal, batches: Batches) -> None:
    for batch in batches("Pond ducks"):
        assert len(events(demo, batch, EventKind.MISTED)) > 10


def test_the_dry_runs_show_what_the_room_s_air_alone_gives(demo: Journal, now: int) -> None:
    for machine in demo.machines.all():
        runs = machine_guide(demo, machine.uid, now).dry_runs
        assert len(runs) >= 4
        for run in runs:
            assert run.measured == pytest.approx(run.expected, abs=2.0)


def test_the_guide_has_several_settings_to_go_by(demo: Journal, now: int) -> None:
    for machine in demo.machines.all():
        guide = machine_guide(demo, machine.uid, now)
        tried = [cell for row in guide.cells for cell in row if cell.hours]
        assert guide.enough
        assert len(tried) >= 6
        assert guide.advised is not None
        assert guide.next_fill is not None
