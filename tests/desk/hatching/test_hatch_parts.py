"""The parts of hatch day: lists as models, the curve, the time, the words."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import pytest
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.hatching.curve_view import CurveView
from hatchbook.desk.hatching.egg_marks import EggMarksModel, EggMarksView
from hatchbook.desk.hatching.hour_scale import HourScale
from hatchbook.desk.hatching.mark_time import MarkTime, quarter_from
from hatchbook.desk.hatching.waiting_list import WaitingModel
from hatchbook.desk.theme.theme import wear_scheme
from hatchbook.desk.theme.tokens import SCHEME_NAMES, SchemeName, load_scheme
from hatchbook.desk.theme.type_scale import role_font
from hatchbook.desk.words.hatching import against_due, due_sentence, yield_text
from hatchbook.figures import batch_figures
from hatchbook.figures.hatch_curve import ChickYield, HatchCurve, HatchHour, hatch_curve
from hatchbook.journal import Hatching
from hatchbook.trade.codes import HatchMark
from PySide6.QtCore import QRectF, QTime
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot
from tests.desk.conftest import ZONE, Desk
from tests.desk.hatching.conftest import NOW, spaced

DUE = 1_779_609_600  # 2026-05-24 08:00 UTC, 09:00 in Lisbon
EMPTY = HatchCurve(DUE, None, None, None, 0, 8, (), (), (), None, 0)
HOURS = (
    HatchHour(-3, 0, 2, 0, 2),
    HatchHour(-2, 1, 1, 1, 3),
    HatchHour(-1, 0, 0, 1, 3),
    HatchHour(0, 3, 0, 4, 3),
)


def test_the_lists_are_sound_models(hatching: Desk, qtbot: QtBot) -> None:
    egg = hatching.eggs[0].uid
    hatching.journal.hatchings.note(hatching.batch.uid, [Hatching(egg, NOW - 60, HatchMark.EXTERNAL_PIP)])
    figures = batch_figures(hatching.journal, hatching.batch.uid, NOW)
    curve = hatch_curve(hatching.journal, figures)
    waiting, marks = WaitingModel(ZONE), EggMarksModel(ZONE)
    for model in (waiting, marks):
        QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    waiting.show_eggs(curve.waited_for, NOW)
    marks.show_records(hatching.journal.hatchings.of_batch(hatching.batch.uid))
    assert (waiting.rowCount(), marks.rowCount()) == (1, 1)
    waiting.show_eggs((), NOW)
    marks.show_records(())
    assert (waiting.rowCount(), marks.rowCount()) == (0, 0)


def test_the_cursor_stays_on_its_mark(qtbot: QtBot) -> None:
    view = EggMarksView(ZONE)
    qtbot.addWidget(view)
    pip, chick = Hatching("e", NOW, HatchMark.EXTERNAL_PIP), Hatching("e", NOW, HatchMark.HATCHED)
    view.show_records([pip, chick])
    assert view.chosen() == chick
    view.setCurrentIndex(view.marks.index(0))
    moved = replace(pip, at=NOW - 900)
    view.show_records([moved, chick])
    assert view.chosen() == moved
    view.show_records([])
    assert view.chosen() is None


@pytest.mark.parametrize(
    ("at", "quarters", "then"),
    [(1000, -1, 900), (1000, 1, 1800), (900, -1, 0), (900, 1, 1800), (1000, -3, -900), (901, -1, 900)],
)
def test_quarters_are_whole_ones(at: int, quarters: int, then: int) -> None:
    assert quarter_from(at, quarters) == then


def test_a_skipped_hour_is_said_and_shifting_leads_out_of_it(qtbot: QtBot) -> None:
    # On 29 March 2026 the clock in Lisbon went from 01:00 to 02:00.
    at = 1_774_749_600  # 02:00 UTC that day, 03:00 on the clock
    edit = InstantEdit(ZONE, at)
    time = MarkTime(ZONE, edit, lambda: at + 7200)
    qtbot.addWidget(time)
    edit.field.setTime(QTime(1, 30))
    assert time.clock.text() == "–"
    assert "There was no 01:30" in time.when.text()
    time.shift(-1)
    assert time.clock.text() == "04:45"


def test_the_clock_is_followed_until_a_quarter_is_chosen(qtbot: QtBot) -> None:
    now = [NOW]
    time = MarkTime(ZONE, InstantEdit(ZONE, NOW), lambda: now[0])
    qtbot.addWidget(time)
    assert (time.clock.text(), time.when.text()) == ("06:36", "Sun 24 May, now")
    now[0] += 120
    with qtbot.waitSignal(time.minute_passed):
        time._timer.timeout.emit()
    assert (time.clock.text(), time.instant()) == ("06:38", NOW + 120)
    with qtbot.assertNotEmitted(time.minute_passed):
        time._timer.timeout.emit()
    with qtbot.waitSignal(time.moved):
        time.earlier.click()
    now[0] += 120
    time._timer.timeout.emit()
    assert time.clock.text() == "06:30"
    assert spaced(time.when.text()) == "Sun 24 May, 10 min ago"
    time.now.click()
    assert time.clock.text() == "06:40"


def test_the_curve_is_read_aloud_hour_by_hour(qtbot: QtBot) -> None:
    view = CurveView(ZONE)
    qtbot.addWidget(view)
    view.show_curve(replace(EMPTY, hours=HOURS, chicks=4, first_pip_at=DUE - 9000), NOW)
    assert spaced(view.accessibleDescription()) == (
        "Sun 24 May 07:00: 2 pipped, 0 hatched; Sun 24 May 08:00: 3 pipped, 1 hatched; "
        "Sun 24 May 10:00: 3 pipped, 4 hatched; due Sun 24 May 09:00, in 2 h 24 min"
    )
    view.show_curve(EMPTY, NOW)
    assert view.accessibleDescription().startswith("No pip and no chick yet.")


@pytest.mark.parametrize("scheme", SCHEME_NAMES)
@pytest.mark.parametrize("size", [(240, 104), (340, 160), (700, 400)])
def test_the_curve_paints_in_every_scheme_and_size(
    qtbot: QtBot, scheme: SchemeName, size: tuple[int, int]
) -> None:
    view = CurveView(ZONE)
    qtbot.addWidget(view)
    wear_scheme(view, load_scheme(scheme))
    view.resize(*size)
    pictures = []
    for curve in (EMPTY, replace(EMPTY, hours=HOURS, chicks=4, first_pip_at=DUE - 9000)):
        view.show_curve(curve, DUE + 7200)
        pictures.append(view.grab().toImage())
    assert pictures[0] != pictures[1]
    wanted = load_scheme(scheme).live.rgb()
    image = pictures[1]
    colours = {image.pixel(x, y) for x in range(image.width()) for y in range(image.height())}
    assert wanted in colours


@pytest.mark.parametrize("width", [200.0, 300.0, 500.0, 900.0])
def test_written_hours_never_touch_each_other(qtbot: QtBot, width: float) -> None:
    metrics = QFontMetricsF(role_font())
    plot = QRectF(30, 0, width, 100)
    ticks = list(HourScale(replace(EMPTY, hours=HOURS), NOW, ZONE, plot).ticks(metrics))
    assert len(ticks) >= 2
    assert all(plot.left() <= tick.x <= plot.right() for tick in ticks)
    for left, right in itertools.pairwise(ticks):
        assert right.x - left.x > metrics.horizontalAdvance("00:00")
    assert ticks[0].date
    assert {tick.clock[-2:] for tick in ticks} == {"00"}


def test_a_mark_weeks_off_does_not_squeeze_the_hatch_into_nothing(qtbot: QtBot) -> None:
    far = (HatchHour(-500, 1, 0, 1, 0), *HOURS)
    scale = HourScale(replace(EMPTY, hours=far), NOW, ZONE, QRectF(0, 0, 400, 100))
    assert scale.first_h == -240
    assert scale.x(-500) == 0.0


@pytest.mark.parametrize(
    ("hours", "sentence"),
    [
        (3.0, "was due Sun 24 May 09:00, 3 h ago"),
        (-26.5, "due Sun 24 May 09:00, in 1 d 2 h"),
        (0.0, "due now, Sun 24 May 09:00"),
    ],
)
def test_how_far_the_due_time_is(qtbot: QtBot, hours: float, sentence: str) -> None:
    assert spaced(due_sentence(DUE, DUE + round(hours * 3600), ZONE)) == sentence


@pytest.mark.parametrize(
    ("hours", "sentence"), [(-12.2, "12 h before due"), (0.2, "as due"), (30.0, "1 d 6 h after due")]
)
def test_how_far_from_the_due_time_something_was(qtbot: QtBot, hours: float, sentence: str) -> None:
    assert spaced(against_due(DUE + round(hours * 3600), DUE)) == sentence


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({}, "no chick weighed"),
        ({"weighed": 2}, "no egg mass at setting"),
        ({"weighed": 9, "chick_yield": ChickYield(68.44, 0.7, 9)}, "68.4 %, mean of 9 chick(s)"),
    ],
)
def test_the_chick_yield_carries_its_count_or_what_is_missing(
    qtbot: QtBot, changes: dict[str, Any], sentence: str
) -> None:
    assert spaced(yield_text(replace(EMPTY, **changes))) == sentence
