"""The demo's records in detail: weights, eggs, hatch, what was typed, logged and ticked."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import numpy as np
from hatchbook.exchange.typed_reading import TypedReading
from hatchbook.figures import BatchFigures, BatchState
from hatchbook.journal import Journal
from hatchbook.statistics.moisture import saturation_kpa
from hatchbook.trade.codes import DutyKind, EggSource, Fate, PhaseKind
from hatchbook.trade.instants import DAY_S

TORR_PER_KPA = 7.500617  # 1 torr is 101325/760 Pa


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
