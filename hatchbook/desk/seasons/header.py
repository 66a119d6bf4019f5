"""The head of the Seasons page: what is compared, and by what."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.widgets.buttons import FlatButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.codes import species_word
from hatchbook.desk.words.dates import season_word
from hatchbook.desk.words.groups import grouping_word, rate_word
from hatchbook.desk.words.season_facts import facts_sentence, running_sentence
from hatchbook.figures.comparison_results import ComparisonFigures, Question
from hatchbook.figures.comparison_rows import Grouping
from hatchbook.statistics.tallies import RateKind

Offered = list[tuple[str, tuple[int, int] | None]]
_LAST = (3, 5, 10)
"""The latest so many seasons can be chosen at once."""


class SeasonsHeader(QWidget):
    """Title, facts, the choices in a row, and what can be taken out.

    Signals:
        asked: the ``Question`` that was chosen.
        export_wanted, picture_wanted: the breeder wants a file.
    """

    asked = Signal(object)
    export_wanted = Signal()
    picture_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._question = Question()
        self._offered: Offered = [("", None)]
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.title = Label(self.tr("Seasons"), role="title")
        self.busy = Label("", "caption", "ink2")
        self.facts = Label("", ink="ink2", wraps=True)
        self.species = self._choice(self.tr("Species"))
        self.seasons = self._choice(self.tr("Seasons"))
        self.first = self._choice(self.tr("Group by"))
        self.second = self._choice(self.tr("And by"))
        self.outcome = self._choice(self.tr("What is compared"))
        self.export = FlatButton(self.tr("Export table"), icon_name="export")
        self.export.setToolTip(self.tr("Every group with its counts and ranges as a CSV file"))
        self.picture = FlatButton(self.tr("Save picture"), icon_name="export")
        self.picture.setToolTip(self.tr("The findings and both charts as a PNG file"))
        self.export.clicked.connect(self.export_wanted)
        self.picture.clicked.connect(self.picture_wanted)
        self._fill_fixed()
        self._lay_out()

    def _choice(self, name: str) -> QComboBox:
        combo = QComboBox()
        combo.setAccessibleName(name)
        combo.setToolTip(name)
        combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        combo.setMinimumContentsLength(7)
        combo.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        combo.activated.connect(lambda _row: self._ask())
        return combo

    def _lay_out(self) -> None:
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 8, 12, 8)
        rows.setSpacing(6)
        top = QHBoxLayout()
        top.setSpacing(10)
        top.addWidget(self.title)
        top.addWidget(self.facts, 1)
        top.addWidget(self.busy, 0, Qt.AlignmentFlag.AlignVCenter)
        top.addWidget(self.export)
        top.addWidget(self.picture)
        rows.addLayout(top)
        choices = QHBoxLayout()
        choices.setSpacing(6)
        for text, combo, stretch in (
            ("", self.outcome, 4),
            ("", self.species, 3),
            ("", self.seasons, 3),
            (self.tr("by"), self.first, 3),
            (self.tr("and by"), self.second, 3),
        ):
            if text:
                choices.addSpacing(4)
                choices.addWidget(Label(text, ink="ink2"))
            choices.addWidget(combo, stretch)
        choices.addStretch(2)
        rows.addLayout(choices)

    def _fill_fixed(self) -> None:
        for kind in RateKind:
            self.outcome.addItem(rate_word(kind), kind)
        self.second.addItem(self.tr("nothing else"), None)
        for grouping in Grouping:
            self.first.addItem(grouping_word(grouping), grouping)
            self.second.addItem(grouping_word(grouping), grouping)

    # ---------------------------------------------------------------- asking

    @property
    def question(self) -> Question:
        """What is chosen."""
        return self._question

    def show_question(self, question: Question) -> None:
        """Shows what is chosen."""
        self._question = question
        self.outcome.setCurrentIndex(self.outcome.findData(question.outcome))
        self.first.setCurrentIndex(self.first.findData(question.groupings[0]))
        second = question.groupings[1] if len(question.groupings) > 1 else None
        self.second.setCurrentIndex(0 if second is None else self.second.findData(second))
        rows = range(self.species.count())
        of_all = self.species.count() - 1
        self.species.setCurrentIndex(
            next((row for row in rows if self.species.itemData(row) == question.species), of_all)
        )
        self._show_seasons(question)

    def _show_seasons(self, question: Question) -> None:
        self.seasons.setCurrentIndex(
            next((row for row, (_text, span) in enumerate(self._offered) if span == question.seasons), 0)
        )

    def _ask(self) -> None:
        first = Grouping(self.first.currentData())
        chosen = self.second.currentData()
        second = None if chosen is None else Grouping(chosen)
        before = self._question.groupings
        if second is first:
            # One grouping twice says nothing: the two change places where that is what was meant.
            second = before[0] if before[0] is not first else None
        species = self.species.currentData()
        question = Question(
            species=None if species is None else str(species),
            seasons=self._offered[self.seasons.currentIndex()][1],
            groupings=(first,) if second is None else (first, second),
            outcome=RateKind(self.outcome.currentData()),
        )
        is_new = question != self._question
        self.show_question(question)
        if is_new:
            self.asked.emit(question)

    # ---------------------------------------------------------------- showing

    def show_figures(self, figures: ComparisonFigures) -> None:
        """Shows what was compared, and offers what there is to choose from."""
        self._offer(figures)
        facts = " ".join(part for part in (facts_sentence(figures), running_sentence(figures)) if part)
        self.facts.setText(facts)
        self.export.setEnabled(figures.batches > 0)
        self.picture.setEnabled(bool(figures.points))
        self.setAccessibleName(f"{self.title.text()}. {facts}")

    def show_no_figures(self) -> None:
        """There is nothing to tell and nothing to take out."""
        self.facts.setText("")
        self.export.setEnabled(False)
        self.picture.setEnabled(False)
        self.setAccessibleName(self.title.text())

    def _offer(self, figures: ComparisonFigures) -> None:
        month = figures.season_first_month
        species: list[tuple[str, str | None]] = [(species_word(code), code) for code in figures.species_known]
        species.sort(key=lambda one: one[0])
        self._refill(self.species, [*species, (self.tr("All species"), None)])
        known = figures.seasons_known
        offered: Offered = [(self.tr("All seasons"), None)]
        for count in _LAST:
            if len(known) > count:
                text = self.tr("The last %n season(s)", "", count)
                offered.append((text, (known[-count], known[-1])))
        offered += [(season_word(season, month), (season, season)) for season in reversed(known)]
        if offered != self._offered:
            self._offered = offered
            self._refill(self.seasons, [(text, None) for text, _span in offered])
        self.show_question(figures.question)

    @staticmethod
    def _refill(combo: QComboBox, items: list[tuple[str, str | None]]) -> None:
        if [(combo.itemText(row), combo.itemData(row)) for row in range(combo.count())] == list(items):
            return
        combo.clear()
        for text, data in items:
            combo.addItem(text, data)

    def show_busy(self, *, busy: bool) -> None:
        """Says that batches are being compared; what was there before stays."""
        self.busy.setText(self.tr("comparing…") if busy else "")
