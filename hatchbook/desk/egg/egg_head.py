"""The head of an egg's sheet: its glyph, what became of it, and the way to its neighbours."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import ElidedLabel, Label
from hatchbook.desk.widgets.pictures import EggGlyph
from hatchbook.desk.words.codes import fate_word
from hatchbook.desk.words.egg_story import fate_sentence
from hatchbook.desk.words.eggs import title_of
from hatchbook.desk.words.numbers import count_of
from hatchbook.figures.egg_story import EggStory

_GLYPH = 60


class EggHead(QWidget):
    """Names the egg; the buttons go to the eggs before and after it by number.

    Signals:
        step_wanted: -1 for the egg before, 1 for the one after.
    """

    step_wanted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._glyph = EggGlyph(size=_GLYPH)
        self.title = Label("", role="title")
        self.fate = ElidedLabel("")
        self.batch = ElidedLabel("", ink="ink2")
        self.count = Label("", ink="ink2")
        self.back = FlatButton(self.tr("‹ Egg before"))
        self.back.setToolTip(self.tr("The egg before (Alt+←, PgUp)"))
        self.on = FlatButton(self.tr("Egg after ›"))
        self.on.setToolTip(self.tr("The egg after (Alt+→, PgDn)"))
        self.back.clicked.connect(lambda: self.step_wanted.emit(-1))
        self.on.clicked.connect(lambda: self.step_wanted.emit(1))
        titles = QVBoxLayout()
        titles.setSpacing(1)
        titles.addWidget(self.title)
        titles.addWidget(self.fate)
        titles.addWidget(self.batch)
        ways = QHBoxLayout()
        ways.setSpacing(6)
        ways.addWidget(self.back)
        ways.addWidget(self.count)
        ways.addWidget(self.on)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(14)
        row.addWidget(self._glyph)
        row.addLayout(titles, 1)
        row.addLayout(ways)

    def show_story(self, story: EggStory) -> None:
        """Shows an egg."""
        self._glyph.set_fate(story.outcome.fate, fate_word(story.outcome.fate))
        self.title.setText(title_of(story.egg, story.trays))
        self.fate.setText(fate_sentence(story))
        pattern = self.tr("batch {label} {name}")
        self.batch.setText(pattern.format(label=story.batch.label, name=story.batch.name).rstrip())
        self.count.setText(count_of(story.position, story.count))
        self.back.setEnabled(story.previous is not None)
        self.on.setEnabled(story.following is not None)
