"""The calendar: duties, marks and spans by local date."""

from __future__ import annotations

from datetime import date
from typing import Any

from hatchbook.figures import calendar_figures
from hatchbook.journal import Duty
from hatchbook.trade.codes import DutyKind
from hatchbook.trade.plan import plan_batch
from hatchbook.trade.programmes import programmes_of

DAY, HOUR = 86_400, 3_600
#: 2026-05-04 18:00 UTC, 19:00 in Lisbon.
SET_AT = 1_777_917_600


def test_duties_stand_on_their_local_dates(hatchery: Any) -> None:
    # 2026-05-05 23:30 UTC is half past midnight of the 6th in Lisbon.
    late = 1_778_023_800
    batch = hatchery.add_batch(
        duties=[Duty(DutyKind.CANDLE, late), Duty(DutyKind.TURN, late - HOUR), Duty(DutyKind.WEIGH, late)]
    )
    hatchery.journal.duties.add(Duty(DutyKind.OTHER, late, text="Buy chick feed"))
    calendar = calendar_figures(hatchery.journal, date(2026, 5, 5), date(2026, 5, 6), SET_AT)
    assert {day: [line.duty.kind for line in lines] for day, lines in calendar.duties.items()} == {
        date(2026, 5, 5): [DutyKind.TURN],
        date(2026, 5, 6): [DutyKind.CANDLE, DutyKind.OTHER, DutyKind.WEIGH],
    }
    assert [line.batch_label for line in calendar.duties[date(2026, 5, 6)]] == [batch.label, "", batch.label]
    assert calendar.marks == {
        date(2026, 5, 6): (
            (batch.uid, DutyKind.CANDLE),
            (None, DutyKind.OTHER),
            (batch.uid, DutyKind.WEIGH),
        )
    }
    assert calendar_figures(hatchery.journal, date(2026, 5, 7), date(2026, 5, 9), SET_AT).duties == {}


def test_a_plan_over_the_change_of_clocks_keeps_its_wall_times(hatchery: Any) -> None:
    # 2026-10-19 18:00 in Lisbon; the clocks are put back in the night to the 25th.
    set_at = 1_792_429_200
    programme = programmes_of("hen")[0]
    plan = plan_batch(programme, set_at, hatchery.journal.zone)
    duties = [Duty(duty.kind, duty.at_s, None, duty.day, duty.ordinal, duty.of) for duty in plan.duties]
    hatchery.add_batch(set_at, duties=duties)
    calendar = calendar_figures(hatchery.journal, date(2026, 10, 24), date(2026, 10, 26), set_at)
    turns = {
        day: sum(line.duty.kind is DutyKind.TURN for line in lines) for day, lines in calendar.duties.items()
    }
    per_day = programme.phases[0].turns_per_day
    assert turns == {date(2026, 10, day): per_day for day in (24, 25, 26)}
    (span,) = calendar.spans
    assert (span.set_on, span.lockdown_on, span.hatch_on) == (
        date(2026, 10, 19),
        date(2026, 11, 6),
        date(2026, 11, 9),
    )


def test_batches_lie_from_setting_to_hatch(hatchery: Any) -> None:
    batch = hatchery.add_batch()
    journal = hatchery.journal

    def spans(first: date, last: date) -> list[str]:
        return [span.batch for span in calendar_figures(journal, first, last, SET_AT).spans]

    assert spans(date(2026, 5, 4), date(2026, 5, 4)) == [batch.uid]
    assert spans(date(2026, 5, 25), date(2026, 5, 31)) == [batch.uid]
    assert spans(date(2026, 5, 10), date(2026, 5, 12)) == [batch.uid]
    assert spans(date(2026, 4, 1), date(2026, 5, 3)) == []
    assert spans(date(2026, 5, 26), date(2026, 6, 30)) == []
    (span,) = calendar_figures(journal, date(2026, 5, 1), date(2026, 5, 31), SET_AT).spans
    assert (span.label, span.set_on, span.lockdown_on, span.hatch_on) == (
        batch.label,
        date(2026, 5, 4),
        date(2026, 5, 22),
        date(2026, 5, 25),
    )


def test_a_duty_is_overdue_an_hour_after_its_time(hatchery: Any) -> None:
    kinds = (DutyKind.SET, DutyKind.TURN, DutyKind.CANDLE, DutyKind.HATCH)
    batch = hatchery.add_batch(duties=[Duty(kind, SET_AT + HOUR) for kind in kinds])
    journal = hatchery.journal
    journal.duties.add(Duty(DutyKind.OTHER, SET_AT + HOUR, text="Buy chick feed"))

    def overdue(hours: float) -> list[DutyKind]:
        calendar = calendar_figures(journal, date(2026, 5, 4), date(2026, 5, 4), SET_AT + round(hours * HOUR))
        return sorted(line.duty.kind for line in calendar.duties[date(2026, 5, 4)] if line.overdue)

    assert overdue(2.0) == []
    assert overdue(2.1) == [DutyKind.CANDLE, DutyKind.OTHER, DutyKind.TURN]
    candle = next(duty for duty in journal.duties.of_batch(batch.uid) if duty.kind is DutyKind.CANDLE)
    journal.duties.tick(candle, SET_AT + 3 * HOUR)
    assert overdue(24) == [DutyKind.OTHER, DutyKind.TURN]
    hatchery.close(batch, 2)
    assert overdue(24) == [DutyKind.OTHER]


def test_what_a_closed_batch_would_still_have_asked_falls_away(hatchery: Any) -> None:
    batch = hatchery.add_batch(
        duties=[Duty(DutyKind.CANDLE, SET_AT + DAY), Duty(DutyKind.TURN, SET_AT + 2 * DAY + HOUR)]
    )
    hatchery.journal.batches.close(batch, SET_AT + 2 * DAY)

    def asked() -> list[DutyKind]:
        calendar = calendar_figures(hatchery.journal, date(2026, 5, 4), date(2026, 5, 8), SET_AT + 3 * DAY)
        return [line.duty.kind for lines in calendar.duties.values() for line in lines]

    assert asked() == [DutyKind.CANDLE]
    hatchery.journal.batches.reopen(hatchery.journal.batches.get(batch.uid))
    assert asked() == [DutyKind.CANDLE, DutyKind.TURN]


def test_the_calendar_has_a_plain_form(hatchery: Any, as_json: Any) -> None:
    batch = hatchery.add_batch(duties=[Duty(DutyKind.CANDLE, SET_AT)])
    plain = as_json(calendar_figures(hatchery.journal, date(2026, 5, 4), date(2026, 5, 4), SET_AT))
    assert plain["marks"] == {"2026-05-04": [[batch.uid, "candle"]]}
    assert plain["duties"]["2026-05-04"][0]["duty"]["kind"] == "candle"
