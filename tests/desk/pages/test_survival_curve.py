"""The curve of the fertile eggs alive: what it says, what a screen reader hears, and that it is painted."""

from __future__ import annotations

import pytest
from hatchbook.desk.actions import Actions
from hatchbook.desk.pages.finished_page import FinishedPage
from hatchbook.desk.pages.survival_curve import SurvivalCurveSection
from hatchbook.desk.words.survival import bounds_sentence
from hatchbook.figures import batch_figures, batch_view
from hatchbook.figures.survival import BatchSurvival, batch_survival
from hatchbook.journal import BreakOut, Candling, Hatching, Removal
from hatchbook.trade.codes import BreakOutResult, FindingCode, HatchMark, RemovalReason
from hatchbook.trade.stages import StageBounds
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot
from tests.desk.conftest import DAY, SET_AT, Desk


def finish(desk: Desk) -> None:
    """Of eleven fertile eggs one goes under a hen, one dies between two candlings, one late; eight hatch."""
    eggs, journal, batch = desk.eggs, desk.journal, desk.batch
    desk.clock.at = SET_AT + 24 * DAY

    def candle(day: int, codes: dict[int, FindingCode]) -> None:
        at = SET_AT + day * DAY
        journal.candlings.note_findings(
            Candling(batch.uid, at), {eggs[n].uid: code for n, code in codes.items()}, at
        )

    candle(7, dict.fromkeys(range(11), FindingCode.ALIVE) | {11: FindingCode.CLEAR})
    candle(18, dict.fromkeys(range(9), FindingCode.ALIVE) | {9: FindingCode.DEAD})
    journal.removals.add(Removal(eggs[10].uid, SET_AT + 12 * DAY, RemovalReason.TAKEN_OUT_ALIVE))
    journal.hatchings.note(
        batch.uid, [Hatching(eggs[n].uid, SET_AT + 21 * DAY, HatchMark.HATCHED) for n in range(8)]
    )
    opened = BreakOut(eggs[8].uid, SET_AT + 23 * DAY, BreakOutResult.LATE_DEAD, dead_day=19.5)
    journal.break_outs.keep(opened)
    journal.batches.close(journal.batches.get(batch.uid), SET_AT + 23 * DAY)


def survival(desk: Desk) -> BatchSurvival:
    return batch_survival(batch_figures(desk.journal, desk.batch.uid, desk.context.now()))


def shown(desk: Desk, qtbot: QtBot) -> SurvivalCurveSection:
    section = SurvivalCurveSection()
    qtbot.addWidget(section)
    section.resize(420, 320)
    section.show_survival(survival(desk))
    return section


def test_the_sentence_has_counts_range_and_who_left(desk: Desk, qtbot: QtBot) -> None:
    finish(desk)
    section = shown(desk, qtbot)
    assert section.sentence.text() == (
        "9 of 11 fertile eggs alive at lockdown (90 % 60–98); 1 left alive before"
    ).replace(" %", "\u00a0%")
    assert "1 loss" in section.spans.text()
    assert "9 to 9" not in section.spans.text()
    assert section.left.text() == (
        "1 egg(s) taken out or broken count until then; left out: 1 clear egg(s) not opened."
    )


def test_a_screen_reader_hears_every_step(desk: Desk, qtbot: QtBot) -> None:
    finish(desk)
    section = shown(desk, qtbot)
    picture = section.picture
    assert picture.accessibleName() == "Fertile eggs alive, by day"
    description = picture.accessibleDescription().replace("\u00a0", " ")
    assert "day 12.5: 9 of 10 alive, 90 %; day 19.5: 8 of 10 alive, 80 %" in description
    assert "9 of 11 fertile eggs alive at lockdown" in description


def colours(image: QImage) -> set[str]:
    return {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}


def test_the_line_the_shade_and_the_range_are_painted(desk: Desk, qtbot: QtBot) -> None:
    finish(desk)
    section = shown(desk, qtbot)
    section.show()
    qtbot.waitExposed(section)
    seen = colours(section.picture.grab().toImage())
    scheme = section.picture.scheme
    assert scheme.hex("live") in seen
    assert scheme.hex("band") in seen
    assert scheme.hex("ink") in seen
    section.close()


def test_without_a_fertile_egg_a_sentence_stands_alone(desk: Desk, qtbot: QtBot) -> None:
    section = shown(desk, qtbot)
    section.show()
    qtbot.waitExposed(section)
    assert section.sentence.text() == "No egg is known to have been fertile."
    assert not section.picture.isVisible()
    assert section.left.text() == "Left out: 12 egg(s) whose fertility is not known."
    section.close()


def test_the_finished_page_shows_the_curve_and_the_days_of_the_stages(desk: Desk, qtbot: QtBot) -> None:
    finish(desk)
    actions = Actions(desk.context)
    page = FinishedPage(desk.context, actions)
    qtbot.addWidget(page)
    page.show_view(*batch_view(desk.journal, desk.batch.uid, desk.context.now()))
    assert page.survival.sentence.text().startswith("9 of 11 fertile eggs alive")
    assert page.bounds.text() == "Early: days 1–7, mid: 8–14, late: 15–21"
    page.change_bounds.click()
    dialog = page.findChild(QDialog)
    assert dialog is not None
    assert dialog.windowTitle() == "Early, mid and late in 26-05 Orchard hens"
    dialog.reject()


@pytest.mark.parametrize(
    ("bounds", "sentence"),
    [
        (StageBounds(7, 14, 21), "Early: days 1–7, mid: 8–14, late: 15–21"),
        (StageBounds(1, 2, 3), "Early: days 1, mid: 2, late: 3"),
        (
            StageBounds.for_incubation(28),
            "Early: up to day 9.3, mid: up to day 18.7, late: from then on",
        ),
    ],
)
def test_the_days_of_the_stages_in_words(bounds: StageBounds, sentence: str, qtbot: QtBot) -> None:
    assert bounds_sentence(bounds) == sentence
