"""The advice for a machine: what to do as headline, why, what the humidity is made of; the room; the evidence."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hatchbook.desk.machines.room_pane import RoomPane
from hatchbook.desk.machines.sum_bar import SumBar, sums_of
from hatchbook.desk.widgets.labels import Label
from hatchbook.desk.widgets.notes import InlineNote
from hatchbook.desk.widgets.rules import HLine
from hatchbook.desk.widgets.segmented import Segmented
from hatchbook.desk.words.codes import in_sentence, phase_word
from hatchbook.desk.words.guide import (
    advice_headline,
    advice_reason,
    aimed_at,
    evidence_sentence,
    impossible_sentence,
    standing_sentence,
)
from hatchbook.desk.words.guide_water import dry_run_sentence
from hatchbook.figures.guide_results import MachineGuide, RoomAir
from hatchbook.figures.results import Band, PhaseFigures
from hatchbook.trade.codes import PhaseKind


def bands_of(phases: tuple[PhaseFigures, ...]) -> tuple[tuple[PhaseKind, Band], ...]:
    """The humidity bands of a batch's phases, one a kind."""
    return tuple({phase.kind: phase.humidity_band for phase in phases}.items())


class AdvicePane(QWidget):
    """The left column of the page.

    Signals:
        batch_chosen: the uid of another batch in the machine to advise for.
    """

    batch_chosen = Signal(str)

    def __init__(self, zone: ZoneInfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.zone = zone
        self.whose: Segmented | None = None
        self._choices: tuple[tuple[str, str], ...] = ()
        self.headline = Label("", role="section", wraps=True)
        self.reason = Label("", ink="ink2", wraps=True)
        self.sums = SumBar()
        self.standing = Label("", wraps=True)
        self.room = RoomPane(zone)
        self.evidence = Label("", "caption", "ink2", wraps=True)
        self.impossible = InlineNote("", "warn")
        self.dry_run = Label("", "caption", "ink2", wraps=True)
        self._rows = QVBoxLayout(self)
        self._rows.setContentsMargins(16, 10, 16, 10)
        self._rows.setSpacing(8)
        self._foot = HLine()
        parts = (self.headline, self.reason, self.sums, self.standing, self.impossible, HLine(), self.room)
        for part in (*parts, self._foot, self.evidence, self.dry_run):
            self._rows.addWidget(part)
        self._rows.addStretch(1)

    # ---------------------------------------------------------------- showing

    def show_guide(
        self,
        guide: MachineGuide,
        read: RoomAir | None,
        bands: tuple[tuple[PhaseKind, Band], ...],
    ) -> None:
        """Shows what a guide advises; ``bands``: those of the batch it is for."""
        self.headline.setText(advice_headline(guide))
        band = None if guide.wanted is None else dict(bands).get(guide.wanted.phase)
        self.reason.setText(advice_reason(guide, self.zone, band))
        roles = {PhaseKind.INCUBATION: "band", PhaseKind.LOCKDOWN: "band2"}
        named = [(in_sentence(phase_word(kind)), roles[kind], band) for kind, band in bands]
        self.sums.show_sums(sums_of(guide), named, aimed_at(guide))
        standing = standing_sentence(guide, self.zone)
        self.standing.setText(standing)
        self.standing.setVisible(bool(standing))
        self.room.show_guide(guide, read)
        impossible = impossible_sentence(guide)
        if impossible != self.impossible.text():
            self.impossible.set_note(impossible, "warn")
        self.impossible.setVisible(bool(impossible))
        # While there is little of it, it stands under the table, whose wide ranges it explains.
        self.evidence.setText(evidence_sentence(guide))
        self.evidence.setVisible(guide.enough)
        latest = guide.dry_runs[0] if guide.dry_runs else None
        self.dry_run.setText("" if latest is None else dry_run_sentence(latest, self.zone))
        self.dry_run.setVisible(latest is not None)
        self._foot.setVisible(guide.enough or latest is not None)

    def show_batches(self, choices: tuple[tuple[str, str], ...], chosen: str | None) -> None:
        """Offers the batches (uid, label) to advise for, where there are several."""
        if choices != self._choices:
            self._choices = choices
            if self.whose is not None:
                self._rows.removeWidget(self.whose)
                self.whose.hide()
                self.whose.deleteLater()
                self.whose = None
            if len(choices) > 1:
                self.whose = Segmented(choices, name=self.tr("Batch to advise for"))
                self.whose.chosen.connect(lambda uid: self.batch_chosen.emit(str(uid)))
                self._rows.insertWidget(0, self.whose)
        if self.whose is not None and chosen in dict(choices):
            self.whose.choose(chosen)
