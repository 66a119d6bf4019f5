"""A programme of the trade for reading: each value beside what it rests on and what others say."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.words.planning import about_word, programme_title, source_line
from hatchbook.desk.words.programmes import period_text, value_lines
from hatchbook.trade.programme import Programme
from hatchbook.trade.programmes import Species
from hatchbook.trade.sources import About, SourceMark, SourceNote

_MARK_INKS = {SourceMark.FROM_MEMORY: "warn"}
_TOP = Qt.AlignmentFlag.AlignTop
_ABOUT, _VALUE, _RESTS, _OTHERS = range(4)
_STRETCHES = (0, 3, 5, 5)


class ProgrammeView(QWidget):
    """Title, why it was chosen, and a row for each thing a programme speaks of.

    Signals:
        copy_wanted: the breeder wants a programme of the own like this one; the ``Programme``, as object.
    """

    copy_wanted = Signal(object)

    def __init__(self, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit = unit
        self._programme: Programme | None = None
        self._content: QWidget | None = None
        self.title = Label("", role="title", wraps=True)
        self.because = Label("", ink="ink2", wraps=True)
        self.copy = QPushButton(self.tr("&Copy as my own"))
        self.copy.setAutoDefault(False)
        self.copy.clicked.connect(self._copy)
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(self.title, 1)
        head.addWidget(self.copy, 0, _TOP)
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(0, 0, 10, 0)
        self._rows.setSpacing(10)
        self._rows.addLayout(head)
        self._rows.addWidget(self.because)
        self._rows.addStretch(1)

    def show_programme(self, species: Species, programme: Programme) -> None:
        """Shows one of a species' programmes beside the others and what is said of the species."""
        self._programme = programme
        self.title.setText(programme_title(programme))
        chosen = programme.code == species.programmes[0].code
        self.because.setText(species.chosen_because)
        self.because.setVisible(chosen)
        if self._content is not None:
            self._rows.removeWidget(self._content)
            self._content.hide()
            self._content.deleteLater()
        self._content = self._table(species, programme)
        self._rows.insertWidget(2, self._content)

    def _copy(self) -> None:
        if self._programme is not None:
            self.copy_wanted.emit(self._programme)

    def _table(self, species: Species, programme: Programme) -> QWidget:
        content = QWidget()
        grid = QGridLayout(content)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(8)
        for column, stretch in enumerate(_STRETCHES):
            grid.setColumnStretch(column, stretch)
        heads = ("", self.tr("Programme"), self.tr("Rests on"), self.tr("Others say"))
        for column, head in enumerate(heads):
            grid.addWidget(Label(head, role="section"), 0, column)
        row = 1
        for about in About:
            values = value_lines(programme, about, self._unit)
            if not values:
                continue
            grid.addWidget(HLine(), row, 0, 1, len(heads))
            grid.addWidget(Label(about_word(about), ink="ink2"), row + 1, _ABOUT, _TOP)
            grid.addLayout(_column(*(Label(text, wraps=True) for text in values)), row + 1, _VALUE)
            rests = [_note(note) for note in programme.sources_of(about)]
            grid.addLayout(_column(*rests, spacing=6), row + 1, _RESTS)
            others = self._others(species, programme, about)
            grid.addLayout(_column(*others, spacing=6), row + 1, _OTHERS)
            row += 2
        return content

    def _others(self, species: Species, programme: Programme, about: About) -> list[QWidget]:
        """What the species' other programmes and other sources say of one thing."""
        ours = value_lines(programme, about, self._unit)
        said: list[QWidget] = []
        for other in species.programmes:
            lines = value_lines(other, about, self._unit)
            if other.code != programme.code and lines and lines != ours:
                said.append(_stack(lines, [(other.title, SourceMark.OURS)]))
        if about is About.PERIOD:
            resting = {note.source for note in programme.sources_of(about)}
            by_days: dict[str, list[tuple[str, SourceMark]]] = {}
            for period in species.periods:
                if period.source not in resting:
                    note = SourceNote("", period.source, period.mark, about)
                    by_days.setdefault(period_text(period), []).append((source_line(note), period.mark))
            said += [_stack((days,), sources) for days, sources in by_days.items()]
        return said + [_note(note) for note in species.alternatives if note.about is about]


def _note(note: SourceNote) -> QWidget:
    return _stack((note.statement,), [(source_line(note), note.mark)])


def _stack(said: Sequence[str], sources: Sequence[tuple[str, SourceMark]]) -> QWidget:
    """What is said, and small below it who says so, each with how good that is."""
    widget = QWidget()
    column = QVBoxLayout(widget)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(1)
    for line in said:
        column.addWidget(Label(line, wraps=True))
    for source, mark in sources:
        column.addWidget(Label(source, "caption", _MARK_INKS.get(mark, "ink2"), wraps=True))
    return widget


def _column(*parts: QWidget, spacing: int = 2) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(spacing)
    for part in parts:
        column.addWidget(part)
    # At the top without an alignment: with one, Qt does not ask how high wrapped text is.
    column.addStretch(1)
    return column
