"""The findings of a comparison, before any table: the strongest strong, the rest below it."""

from __future__ import annotations

from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from hatchbook.desk.widgets.announce import announce
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.words.seasons import Story


class StoryPane(QWidget):
    """A strong sentence, its odds, and a paragraph of what else there is to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.headline = Label("", role="section", wraps=True)
        self.odds = Label("", wraps=True)
        self.rest = Label("", ink="ink2", wraps=True)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(16, 8, 12, 9)
        rows.setSpacing(2)
        rows.addWidget(self.headline)
        rows.addWidget(self.odds)
        rows.addWidget(self.rest)

    def show_story(self, story: Story) -> None:
        """Shows other findings."""
        self.headline.setText(story.headline)
        self.odds.setText(story.odds)
        self.odds.setVisible(bool(story.odds))
        self.rest.setText("  ".join(story.rest))
        self.rest.setVisible(bool(story.rest))
        said = story.text
        if said != self.accessibleDescription():
            self.setAccessibleDescription(said)
            self.setAccessibleName(self.tr("Findings"))
            if self.isVisible():
                announce(self, said)
