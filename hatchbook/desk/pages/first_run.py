"""What there is to do while there is no batch: the ways in, and a page as every batch gets one."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hatchbook.desk.actions import Actions
from hatchbook.desk.charts.lazy import LazyChartPane
from hatchbook.desk.context import DeskContext
from hatchbook.desk.widgets.buttons import LinkButton
from hatchbook.desk.widgets.choice_card import ChoiceCard
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.words.dates import weekday_date
from hatchbook.journal import Journal

_SAMPLE = "hen"


class FirstRunPage(QWidget):
    """Three choices and a line for past seasons; below, the chart of no batch says what belongs where."""

    def __init__(self, context: DeskContext, actions: Actions) -> None:
        super().__init__()
        self.setObjectName("sheet")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._context = context
        self._actions = actions
        self._text = Label("", ink="ink2", wraps=True)
        self._about = Label("", ink="ink2", wraps=True)
        self.chart = LazyChartPane(context, actions)
        # To be looked at: there is nothing in it to be chosen.
        self.chart.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.chart.setEnabled(False)
        self.buttons = [self._card(*choice) for choice in self._choices()]
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        top = QVBoxLayout()
        top.setContentsMargins(16, 12, 16, 6)
        top.setSpacing(6)
        top.addWidget(Label(self.tr("A journal for your hatches"), role="title"))
        top.addWidget(self._text)
        cards = QHBoxLayout()
        cards.setContentsMargins(0, 4, 0, 0)
        cards.setSpacing(12)
        for card in self.buttons:
            cards.addWidget(card, 1)
        top.addLayout(cards)
        self.past = [
            self._link("import_past", self.tr("Import past seasons…")),
            self._link("add_past_batch", self.tr("Enter a past batch…")),
        ]
        past = QHBoxLayout()
        past.setSpacing(2)
        past.addWidget(Label(self.tr("Years on paper, or in a table?"), ink="ink2"))
        for link in self.past:
            past.addWidget(link)
        past.addStretch(1)
        top.addLayout(past)
        rows.addLayout(top)
        rows.addWidget(HLine())
        below = QVBoxLayout()
        below.setContentsMargins(16, 8, 16, 2)
        below.setSpacing(3)
        below.addWidget(Label(self.tr("Every batch gets a page like this"), role="section"))
        below.addWidget(self._about)
        rows.addLayout(below)
        rows.addWidget(self.chart, 1)

    def _choices(self) -> tuple[tuple[str, str, str, str], ...]:
        return (
            ("new_batch", "newbatch", self.tr("New batch"), self.tr("Plan the hatch, or set eggs now")),
            ("open_demo", "seasons", self.tr("Open the demo"), self.tr("Invented; nothing of it is kept")),
            (
                "open_journal",
                "journal",
                self.tr("Open a journal"),
                self.tr("A file that ends with .hatchbook"),
            ),
        )

    def _card(self, name: str, icon_name: str, title: str, text: str) -> ChoiceCard:
        key = self._actions[name].shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        card = ChoiceCard(title, text, key, icon_name)
        card.clicked.connect(self._actions[name].trigger)
        return card

    def _link(self, name: str, text: str) -> LinkButton:
        """A way in that is taken once in a journal's life: smaller than the others."""
        action = self._actions[name]
        link = LinkButton(text)
        link.setEnabled(action.isEnabled())
        link.clicked.connect(action.trigger)
        action.enabledChanged.connect(link.setEnabled)
        return link

    def show_journal(self, journal: Journal | None) -> None:
        """Says whether a journal is open, and that it holds no batch yet."""
        if journal is None:
            self._text.setText(
                self.tr("No journal is open. It is one file on your computer, and it belongs to you.")
            )
        else:
            self._text.setText(self.tr("{file} holds no batch yet.").format(file=journal.path.name))

    def showEvent(self, event: QShowEvent) -> None:
        """The first choice has the focus, and the sample begins now."""
        super().showEvent(event)
        self._show_sample()
        self.buttons[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_sample(self) -> None:
        from hatchbook.figures.sample import sample_view
        from hatchbook.trade.programmes import programme_named

        programme = programme_named(_SAMPLE)
        if programme is None:
            raise LookupError(f"there is no programme {_SAMPLE}")
        zone, now = self._context.zone, self._context.now()
        figures, curves = sample_view(programme, now, zone)
        self._about.setText(
            self.tr(
                "Hen eggs set now would be locked down on {lockdown} and hatch on {hatch}; the mean of each phase "
                "belongs into its band. Other birds bring their own days and bands."
            ).format(
                lockdown=weekday_date(figures.lockdown_at, zone),
                hatch=weekday_date(figures.hatch_due_at, zone),
            )
        )
        self.chart.show_view(figures, curves)
