"""Where a programme comes from: what each of its values rests on, and what other sources say."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from hatchbook.desk.dialogs.frame import FramedDialog
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.numbers import number, range_text
from hatchbook.desk.words.planning import about_word, mark_word, source_line
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import load_species
from hatchbook.trade.sources import SourceMark, SourceNote

_MARK_INKS = {SourceMark.PUBLISHED: "ink2", SourceMark.FROM_MEMORY: "warn"}


class ProgrammeSourcesDialog(FramedDialog):
    """A list for reading: value by value, with the source and how good it is."""

    def __init__(self, programme: Programme, parent: QWidget | None) -> None:
        super().__init__(self.tr("Where this comes from"), parent, QSize(700, 560))
        content = QWidget()
        rows = QVBoxLayout(content)
        rows.setContentsMargins(0, 0, 12, 0)
        rows.setSpacing(10)
        rows.addWidget(Label(programme.title, role="title"))
        species = next((one for one in load_species() if one.code == programme.species), None)
        if species is not None and programme.code == species.programmes[0].code:
            rows.addWidget(Label(species.chosen_because, ink="ink2", wraps=True))
        if programme.sources:
            rows.addWidget(Label(self.tr("What it rests on"), role="section"))
            rows.addLayout(self._notes(programme.sources))
        else:
            rows.addWidget(
                Label(self.tr("Its values are the breeder's own: no source is named."), wraps=True)
            )
        if species is not None and species.alternatives:
            rows.addWidget(Label(self.tr("What others say"), role="section"))
            rows.addLayout(self._notes(species.alternatives))
        if species is not None and species.periods:
            rows.addWidget(Label(self.tr("How long it lasts, by source"), role="section"))
            grid = self._grid()
            for row, period in enumerate(species.periods):
                days = (
                    self.tr("{days} days").format(days=number(period.low_days, 0))
                    if period.low_days == period.high_days
                    else self.tr("{days} days").format(days=range_text(period.low_days, period.high_days))
                )
                grid.addWidget(Label(days), row, 0, Qt.AlignmentFlag.AlignTop)
                source = Label(period.source, role="caption", ink="ink2", wraps=True)
                grid.addWidget(source, row, 1)
                if period.mark is not SourceMark.PUBLISHED:
                    source.setText(
                        self.tr("{source} ({mark})").format(source=period.source, mark=mark_word(period.mark))
                    )
                    source.set_ink(_MARK_INKS.get(period.mark, "ink2"))
            rows.addLayout(grid)
        rows.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidget(content)
        area.setAccessibleName(self.tr("Sources of {programme}").format(programme=programme.title))
        self.set_content(area)
        self.add_leave_button(self.tr("Close")).setDefault(True)

    @staticmethod
    def _grid() -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(8)
        grid.setColumnMinimumWidth(0, 90)
        grid.setColumnStretch(1, 1)
        return grid

    def _notes(self, notes: tuple[SourceNote, ...]) -> QGridLayout:
        grid = self._grid()
        for row, note in enumerate(notes):
            grid.addWidget(Label(about_word(note.about), ink="ink2"), row, 0, Qt.AlignmentFlag.AlignTop)
            cell = QVBoxLayout()
            cell.setSpacing(1)
            cell.addWidget(Label(note.statement, wraps=True))
            ink = _MARK_INKS.get(note.mark, "ink2")
            cell.addWidget(Label(source_line(note), role="caption", ink=ink, wraps=True))
            grid.addLayout(cell, row, 1)
        return grid
