"""What an opened egg showed: how far the embryo had come, how it lay, what else was seen, and by whom."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QGridLayout, QWidget

from hatchbook.desk.egg.entry_forms import EntryForm
from hatchbook.desk.egg.entry_values import OpenedEgg
from hatchbook.desk.egg.typed_values import typed_dead_day
from hatchbook.desk.entry.instant_edit import InstantEdit
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import malposition_word, sign_word, word
from hatchbook.desk.words.numbers import typed_text
from hatchbook.trade.codes import BreakOutResult, BreakOutSign, Malposition

_DAY_WIDTH = 56


class OpeningForm(EntryForm):
    """Malpositions and signs are ticked; several may go together."""

    def build(self) -> None:
        """Result, day of death, observer, instant, note, and the boxes."""
        self._incubation_days = 365.0
        self.add_row(self.tr("Found"), self._result_and_instant())
        self.add_row(self.tr("Died on"), self._day_and_observer())
        self.add_row(
            self.tr("Note"),
            self.line(
                self.tr("Note"),
                lambda value: value.break_out.note,
                lambda value, text: _changed(value, note=text),
            ),
        )
        self.grid.addWidget(self._boxes(), self.grid.rowCount(), 0, 1, 2)

    def _result_and_instant(self) -> QWidget:
        whole = QWidget()
        row = QGridLayout(whole)
        row.setContentsMargins(0, 0, 0, 0)
        row.setHorizontalSpacing(10)
        result = self.choice(
            self.tr("Found"),
            [(code, word(code), self.glyph(code)) for code in BreakOutResult],
            lambda value: value.break_out.result,
            lambda value, code: _changed(value, result=BreakOutResult(code)),
        )
        edit = InstantEdit(self.context.zone, 0)
        edit.set_accessible_name(self.tr("When"))
        when = self.instant(edit, lambda value: value.break_out.at, lambda value, at: _changed(value, at=at))
        row.addWidget(result, 0, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(when, 0, 1)
        row.setColumnStretch(0, 3)
        row.setColumnStretch(1, 4)
        whole.setFocusProxy(result)
        return whole

    def _day_and_observer(self) -> QWidget:
        whole = QWidget()
        row = QGridLayout(whole)
        row.setContentsMargins(0, 0, 0, 0)
        row.setHorizontalSpacing(10)
        day = self.line(
            self.tr("Day on which it died"),
            lambda value: typed_text(value.break_out.dead_day, 1),
            lambda value, text: _changed(value, dead_day=typed_dead_day(text, self._incubation_days)),
            longest=8,
            width=_DAY_WIDTH,
            before=Label(self.tr("day"), ink="ink2"),
        )
        observer = self.line(
            self.tr("Opened by"),
            lambda value: value.break_out.by_whom,
            lambda value, text: _changed(value, by_whom=text),
            longest=60,
            before=Label(self.tr("opened by")),
        )
        row.addWidget(day, 0, 0)
        row.addWidget(observer, 0, 1)
        row.setColumnStretch(1, 1)
        whole.setFocusProxy(day)
        return whole

    def _boxes(self) -> QWidget:
        """Malpositions in one column, signs in the other."""
        whole = QWidget()
        grid = QGridLayout(whole)
        grid.setContentsMargins(0, 2, 0, 0)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(1)
        grid.addWidget(Label(self.tr("How it lay"), role="caption", ink="ink2"), 0, 0)
        grid.addWidget(Label(self.tr("Also seen"), role="caption", ink="ink2"), 0, 1)
        for at, position in enumerate(Malposition):
            grid.addWidget(self._position_box(position), at + 1, 0)
        for at, sign in enumerate(BreakOutSign):
            grid.addWidget(self._sign_box(sign), at + 1, 1)
        return whole

    def _position_box(self, code: Malposition) -> QCheckBox:
        return self.tick(
            malposition_word(code),
            lambda value: code in value.malpositions,
            lambda value, ticked: replace(
                value, malpositions=value.malpositions | {code} if ticked else value.malpositions - {code}
            ),
        )

    def _sign_box(self, code: BreakOutSign) -> QCheckBox:
        return self.tick(
            sign_word(code),
            lambda value: code in value.signs,
            lambda value, ticked: replace(
                value, signs=value.signs | {code} if ticked else value.signs - {code}
            ),
        )

    def use_incubation(self, days: float) -> None:
        """No embryo dies long after the incubation is over."""
        self._incubation_days = days


def _changed(value: OpenedEgg, **fields: Any) -> OpenedEgg:
    return replace(value, break_out=replace(value.break_out, **fields))
