"""The demo's story as a breeder meets it: what runs, what drifted, what is missing, what contradicts itself."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from hatchbook.exchange.typed_reading import TypedReading
from hatchbook.figures import BatchFigures, BatchState, batch_figures, journal_lines, overview
from hatchbook.journal import Batch, Journal
from hatchbook.statistics.drift import DriftVerdict
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.trade.codes import DutyKind, EggSource, EventKind, Fate, MachineKind, PhaseKind
from hatchbook.trade.instants import DAY_S

TORR_PER_KPA = 7.500617  # 1 torr is 101325/760 Pa
Batches = Callable[[str], list[Batch]]


@pytest.fixture(scope="module")
def figures(demo: Journal, now: int) -> list[BatchFigures]:
    return [batch_figures(demo, batch.uid, now) for batch in demo.batches.all()]


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


# ---------------------------------------------------------------- weights


def test_marked_eggs_lose_as_the_readings_say(demo: Journal, figures: list[BatchFigures]) -> None:
    """Mass lost against the integral of the vapour pressure difference: one conductance an egg, all weighings."""
    batch = next(one.batch for one in figures if one.state is BatchState.RUNNING)
    probe = demo.probes.get(batch.probe or "")
    series = demo.readings.series(probe.number, batch.set_at, 2**40)
    outside_torr = saturation_kpa(series.temperature_c) * (1 - series.humidity / 100) * TORR_PER_KPA
    steps = np.diff(series.at) / DAY_S
    pull = np.concatenate(([0.0], np.cumsum(outside_torr[:-1] * steps)))
    set_masses = {egg.uid: egg.set_mass_g for egg in demo.eggs.of_batch(batch.uid) if egg.set_mass_g}
    assert len(set_masses) == 12
    per_egg: dict[str, list[float]] = {}
    for weighing in demo.weighings.of_batch(batch.uid)[1:]:
        for mass in demo.weighings.masses_of(weighing.uid):
            set_g = set_masses[mass.egg]
            lost_mg_a_gram = 1000 * (set_g - mass.mass_g) / set_g
            per_egg.setdefault(mass.egg, []).append(
                lost_mg_a_gram / float(np.interp(weighing.at, series.at, pull))
            )
    for conductances in per_egg.values():
        assert np.ptp(conductances) < 0.02
    means = [float(np.mean(one)) for one in per_egg.values()]
    assert 0.24 < np.mean(means) < 0.28
    assert 0.01 < np.std(means) < 0.06


def test_no_egg_gains_weight(demo: Journal) -> None:
    for batch in demo.batches.all():
        last = {egg.uid: egg.set_mass_g for egg in demo.eggs.of_batch(batch.uid) if egg.set_mass_g}
        for weighing in demo.weighings.of_batch(batch.uid):
            for mass in demo.weighings.masses_of(weighing.uid):
                assert mass.mass_g < last[mass.egg]
                last[mass.egg] = mass.mass_g


# ---------------------------------------------------------------- eggs


def test_one_pen_hatches_worse_than_the_others(demo: Journal, figures: list[BatchFigures]) -> None:
    pooled: dict[str, list[int]] = {}
    for one in figures:
        if one.state is BatchState.CLOSED and len(one.pen_names) == 1:
            rate = one.rates.hatch_of_fertile
            there = pooled.setdefault(one.pen_names[0], [0, 0])
            there[0] += rate.hits
            there[1] += rate.trials
    shares = {pen: hits / trials for pen, (hits, trials) in pooled.items()}
    worst = min(shares, key=lambda pen: shares[pen])
    assert worst == "Brook pen"
    assert all(share > shares[worst] + 0.05 for pen, share in shares.items() if pen != worst)


def test_records_contradict_each_other_only_where_the_story_says_so(figures: list[BatchFigures]) -> None:
    found = Counter(
        str(clash.code) for one in figures for egg in one.eggs for clash in egg.outcome.contradictions
    )
    assert found == {"clear_but_hatched": 1, "dead_but_hatched": 1}


def test_some_clears_were_opened_and_some_not(figures: list[BatchFigures]) -> None:
    closed = [one for one in figures if one.state is BatchState.CLOSED]
    assert sum(one.counts.get(Fate.CLEAR, 0) for one in closed) >= 5
    assert sum(one.counts.get(Fate.INFERTILE, 0) for one in closed) >= 20


def test_every_kind_of_fate_has_come_about(figures: list[BatchFigures]) -> None:
    fates = {fate for one in figures for fate in one.counts}
    wanted = {
        *(Fate.HATCHED, Fate.HELPED, Fate.CULLED, Fate.EARLY_DEAD, Fate.MID_DEAD, Fate.LATE_DEAD),
        *(Fate.PIPPED_DEAD, Fate.CLEAR, Fate.INFERTILE, Fate.TAKEN_OUT, Fate.CRACKED, Fate.UNKNOWN),
        *(Fate.ALIVE, Fate.UNSURE, Fate.SET),
    }
    assert wanted <= fates


def test_late_deaths_show_signs_and_malpositions(demo: Journal) -> None:
    kinds = Counter(
        (mark.kind, mark.code)
        for opened in demo.break_outs.all()
        for mark in demo.break_outs.marks(opened.uid)
    )
    assert kinds["sign", "wet"] >= 5
    assert kinds["sign", "dry_and_stuck"] >= 1
    assert sum(count for (kind, _), count in kinds.items() if kind == "malposition") >= 3


_HATCH_ORDER = ("external_pip", "died_in_pip", "hatched", "helped", "weak", "culled")


def test_hatching_goes_from_pip_to_chick(demo: Journal) -> None:
    for batch in demo.batches.all():
        marks: dict[str, list[str]] = {}
        for record in demo.hatchings.of_batch(batch.uid):
            marks.setdefault(record.egg, []).append(str(record.mark))
        for order in marks.values():
            assert order == sorted(order, key=_HATCH_ORDER.index)


def test_own_eggs_tell_when_they_were_laid_and_some_their_hen(demo: Journal) -> None:
    with_dam = 0
    for batch in demo.batches.all():
        eggs = demo.eggs.of_batch(batch.uid)
        if batch.source is EggSource.SHIPPED:
            assert all(egg.pen is None and egg.laid_on is None for egg in eggs)
        else:
            assert all(egg.pen is not None and egg.laid_on is not None for egg in eggs)
        with_dam += sum(egg.dam is not None for egg in eggs)
    assert with_dam > 80


# ---------------------------------------------------------------- readings and duties


def test_what_was_typed_by_hand_comes_back_as_typed(demo: Journal) -> None:
    typed = [
        reading for probe in demo.probes.all() for reading in demo.readings.by_hand(probe.number, 0, 2**40)
    ]
    assert len(typed) > 120
    for reading in typed:
        again = TypedReading.from_json(reading.entered or "")
        assert again.to_record(reading.probe, reading.at, 120.0) == reading
    assert any("wet_bulb" in (reading.entered or "") for reading in typed)
    assert any("fahrenheit" in (reading.entered or "") for reading in typed)


def test_loggers_were_read_out_week_by_week(demo: Journal) -> None:
    runs = demo.imports.all()
    assert len(runs) > 50
    for newer, older in pairwise(runs):
        assert newer.at >= older.at
    assert all(run.lines == run.stored + run.already + 1 for run in runs)


def test_probes_were_checked_over_salt_and_read_a_little_off(demo: Journal) -> None:
    checks = [check for probe in demo.probes.all() for check in demo.probes.checks(probe.uid)]
    assert len(checks) >= 8
    off = [abs(check.shown_value - check.reference_value) for check in checks]
    assert max(off) < 2
    assert sum(one > 0 for one in off) > len(off) / 2


def test_most_turnings_were_done_and_some_missed(demo: Journal, figures: list[BatchFigures]) -> None:
    for one in figures:
        if one.state is BatchState.PLANNED:
            assert one.phases[0].turns_done == 0
            continue
        assert 0.8 <= one.phases[0].turns_done / one.phases[0].turns_due <= 1
    missed = sum(one.phases[0].turns_due - one.phases[0].turns_done for one in figures)
    assert missed > 20


def test_nothing_is_noted_after_the_present(demo: Journal, now: int) -> None:
    latest = [event.at for event in demo.events.all()]
    latest += [duty.done_at for duty in demo.duties.all() if duty.done_at is not None]
    latest += [candling.at for candling in demo.candlings.all()]
    latest += [weighing.at for weighing in demo.weighings.all()]
    latest += [run.at for run in demo.imports.all()]
    latest += [check.at for probe in demo.probes.all() for check in demo.probes.checks(probe.uid)]
    latest += [reading.at for probe in demo.probes.all() if (reading := demo.readings.last(probe.number))]
    assert max(latest) <= now


def test_the_planned_batch_has_eggs_and_all_its_duties_ahead(demo: Journal, now: int) -> None:
    batch = demo.batches.all()[0]
    assert batch.set_at > now
    assert demo.eggs.of_batch(batch.uid)
    duties = demo.duties.of_batch(batch.uid)
    assert {duty.kind for duty in duties} >= {DutyKind.TURN, DutyKind.CANDLE, DutyKind.LOCKDOWN}
    assert all(duty.done_at is None for duty in duties)


def test_every_batch_has_an_incubation_and_a_lockdown(demo: Journal) -> None:
    for batch in demo.batches.all():
        kinds = [phase.kind for phase in demo.batches.phases(batch.uid)]
        assert kinds == [PhaseKind.INCUBATION, PhaseKind.LOCKDOWN]
