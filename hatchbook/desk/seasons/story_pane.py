"""The findings of a comparison, before any table: the strongest strong, the rest below it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.theme.theme import LOOK_EVENTS
from hatchbook.desk.theme.type_scale import TypeRole, role_font
from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.seasons import Story, odds_explained

_LINES = 3
"""So many are shown; what does not fit opens with a link."""
_BETWEEN = "  "
_LEFT, _RIGHT, _GAP = 16, 12, 8
_ENDLESS = 10_000.0


class StoryPane(QWidget):
    """A strong sentence, its odds, and a paragraph of what else there is to say, of which the end may be folded."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._story = Story("")
        self._unfolded = False
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.headline = Label("", role="section", wraps=True)
        self.odds = Label("", wraps=True)
        self.odds.setToolTip(odds_explained())
        self.rest = Label("", ink="ink2", wraps=True)
        self.rest.setToolTip(odds_explained())
        self.more = LinkButton(role=TypeRole.BODY)
        self.more.clicked.connect(self._turn)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(_LEFT, 8, _RIGHT, 9)
        rows.setSpacing(2)
        rows.addWidget(self.headline)
        rows.addWidget(self.odds)
        last = QHBoxLayout()
        last.setSpacing(_GAP)
        last.addWidget(self.rest, 1)
        last.addWidget(self.more)
        rows.addLayout(last)
        self.show_story(self._story)

    def show_story(self, story: Story) -> None:
        """Shows other findings."""
        if story != self._story:
            self._unfolded = False
        self._story = story
        self.headline.setText(story.headline)
        self.odds.setText(story.odds)
        self.odds.setVisible(bool(story.odds))
        self._fold()
        said = story.text
        if said != self.accessibleDescription():
            self.setAccessibleDescription(said)
            self.setAccessibleName(self.tr("Findings"))
            if self.isVisible():
                announce(self, said)

    # ---------------------------------------------------------------- folding

    def _turn(self) -> None:
        self._unfolded = not self._unfolded
        self._fold()
        self.more.setFocus()

    def _fold(self) -> None:
        """Shows as many whole sentences as there is room for, at least one; all of them once that is wanted."""
        sentences = self._story.rest
        fitting = self._fitting()
        shown = sentences if self._unfolded else sentences[:fitting]
        self.rest.setText(_BETWEEN.join(shown))
        self.rest.setVisible(bool(shown))
        left = len(sentences) - fitting
        self.more.setVisible(left > 0)
        self.more.set_text(self.tr("less") if self._unfolded else self.tr("%n more", "", left))
        self.more.setAccessibleDescription(_BETWEEN.join(sentences[fitting:]))

    def _fitting(self) -> int:
        width = self.width() - _LEFT - _RIGHT
        taken = sum(
            self._lines_of(text, width, role_font(role))
            for text, role in ((self._story.headline, TypeRole.SECTION), (self._story.odds, TypeRole.BODY))
        )
        font = role_font(TypeRole.BODY)
        room = max(1, _LINES - taken)
        if self._lines_of(_BETWEEN.join(self._story.rest), width, font) <= room:
            return len(self._story.rest)
        link = QFontMetricsF(font).horizontalAdvance(self.tr("%n more", "", 9)) + _GAP + 8
        for count in range(len(self._story.rest) - 1, 1, -1):
            if self._lines_of(_BETWEEN.join(self._story.rest[:count]), width - link, font) <= room:
                return count
        return min(1, len(self._story.rest))

    @staticmethod
    def _lines_of(text: str, width: float, font: QFont) -> int:
        if not text:
            return 0
        metrics = QFontMetricsF(font)
        wrapped = metrics.boundingRect(
            QRectF(0, 0, max(width, 1.0), _ENDLESS), int(Qt.TextFlag.TextWordWrap), text
        )
        return round(wrapped.height() / metrics.lineSpacing())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """More or fewer sentences fit."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fold()

    def changeEvent(self, event: QEvent) -> None:
        """Notices another font."""
        super().changeEvent(event)
        if event.type() in LOOK_EVENTS and self.layout() is not None:
            self._fold()
