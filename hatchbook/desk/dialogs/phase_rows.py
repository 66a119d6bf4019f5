"""The phases of a batch as they are typed: until which day, humidity band and aim, temperature, turnings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QCoreApplication, QLocale, QObject, Qt

from hatchbook.desk.dialogs.cells import CellModel, Column, Index
from hatchbook.desk.dialogs.edit_table import EditTable, stretch_column
from hatchbook.desk.words.codes import phase_word
from hatchbook.desk.words.planning import programme_sentence
from hatchbook.desk.words.typing import number_sentence
from hatchbook.trade.codes import PhaseKind
from hatchbook.trade.phases import PhaseTargets, ProgrammeError, ProgrammeFault
from hatchbook.trade.units import NumberError, Unit, from_stored, parse_typed

PHASE, UNTIL, LOW, AIM, HIGH, WARMTH, TURNS = range(7)
#: Which cell shows a mistake that lies in several.
_CELL_OF = {"days": UNTIL, "humidity": AIM, "temperature": WARMTH, "turns_per_day": TURNS}


def _tr(text: str, n: int = -1) -> str:
    return QCoreApplication.translate("PhaseRows", text, "", n)


class PhaseRowsModel(CellModel):
    """Phases one behind the other: each begins where the one before it ends. Temperatures in ``unit``."""

    def __init__(self, unit: Unit, parent: QObject | None = None) -> None:
        warmth = _tr("°F") if unit is Unit.FAHRENHEIT else _tr("°C")
        super().__init__(
            (
                Column(_tr("Phase"), "", 110, editable=False),
                Column(
                    _tr("Until day"), _tr("The day after setting on which the phase ends"), 74, number=True
                ),
                Column(_tr("Lowest %"), _tr("Lower edge of the band for the mean humidity"), 74, number=True),
                Column(_tr("Aim %"), _tr("The mean humidity that is aimed at"), 64, number=True),
                Column(
                    _tr("Highest %"), _tr("Upper edge of the band for the mean humidity"), 78, number=True
                ),
                Column(warmth, _tr("The temperature that is aimed at"), 64, number=True),
                Column(
                    _tr("Turns a day"), _tr("How often the eggs are turned; 0: not at all"), 88, number=True
                ),
            ),
            parent=parent,
        )
        self._unit = unit
        self._shown: tuple[PhaseTargets, ...] = ()

    def show_phases(self, phases: Sequence[PhaseTargets]) -> None:
        """Shows the phases of a programme."""
        self._shown = tuple(phases)
        self.set_texts([self._texts_of(phase) for phase in phases])

    def warm_by(self, rise_c: float) -> None:
        """Moves all temperatures, as between forced and still air; what cannot be read stays as it is."""
        try:
            phases = self.phases()
        except ProgrammeError:
            return
        self.show_phases(
            [
                replace(
                    phase,
                    temperature_low_c=phase.temperature_low_c + rise_c,
                    temperature_aim_c=phase.temperature_aim_c + rise_c,
                    temperature_high_c=phase.temperature_high_c + rise_c,
                )
                for phase in phases
            ]
        )

    def phases(self) -> tuple[PhaseTargets, ...]:
        """What was entered.

        Raises:
            ProgrammeError: something cannot be; ``first_trouble`` says where.
        """
        made: list[PhaseTargets] = []
        for row in range(len(self._rows)):
            try:
                made.append(self._made(row))
            except NumberError as error:
                raise ProgrammeError(ProgrammeFault.UNREADABLE, "phases", str(error)) from error
        return tuple(made)

    def _texts_of(self, phase: PhaseTargets) -> tuple[str, ...]:
        return (
            phase_word(phase.kind),
            _plain(phase.to_day),
            _plain(phase.humidity_low),
            _plain(phase.humidity_aim),
            _plain(phase.humidity_high),
            _plain(round(from_stored(phase.temperature_aim_c, self._unit), 1)),
            _plain(phase.turns_per_day),
        )

    def _made(self, row: int) -> PhaseTargets:
        """The phase of a row; cells that were not touched keep the value behind their rounded text."""
        old = self._shown[row]
        texts, before = self._rows[row], self._texts_of(old)

        def value(column: int, kept: float, unit: Unit = Unit.PERCENT) -> float:
            return kept if texts[column] == before[column] else _typed(texts[column], unit)

        aim_c = value(WARMTH, old.temperature_aim_c, self._unit)
        rise = aim_c - old.temperature_aim_c
        turns = value(TURNS, old.turns_per_day)
        if turns != int(turns):
            sentence = "Eggs are turned a whole number of times."
            raise ProgrammeError(ProgrammeFault.WRONG_KIND, "turns_per_day", sentence)
        return replace(
            old,
            from_day=self._begin(row),
            to_day=value(UNTIL, old.to_day),
            humidity_low=value(LOW, old.humidity_low),
            humidity_aim=value(AIM, old.humidity_aim),
            humidity_high=value(HIGH, old.humidity_high),
            temperature_low_c=old.temperature_low_c + rise,
            temperature_aim_c=aim_c,
            temperature_high_c=old.temperature_high_c + rise,
            turns_per_day=int(turns),
        )

    def _begin(self, row: int) -> float:
        if row == 0:
            return 0.0
        text, before = self._rows[row - 1][UNTIL], self._texts_of(self._shown[row - 1])[UNTIL]
        return self._shown[row - 1].to_day if text == before else _typed(text, Unit.PERCENT)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """In lockdown eggs are not turned: there is nothing to type."""
        flags = super().flags(index)
        turns = index.isValid() and index.column() == TURNS
        if turns and self._shown[index.row()].kind is PhaseKind.LOCKDOWN:
            return flags & ~Qt.ItemFlag.ItemIsEditable
        return flags

    def trouble_of(self, row: int, column: int) -> str:
        """What cannot be read, and what does not go together."""
        if column == PHASE:
            return ""
        unit = self._unit if column == WARMTH else Unit.PERCENT
        try:
            _typed(self._rows[row][column], unit)
        except NumberError as error:
            return number_sentence(error)
        try:
            self._made(row)
        except ProgrammeError as error:
            if _CELL_OF.get(error.field) == column:
                return programme_sentence(error)
        except NumberError:
            return ""  # said in its own cell
        return ""


class PhaseTable(EditTable):
    """The table of the phases."""

    def __init__(self, model: PhaseRowsModel) -> None:
        super().__init__(model, _tr("Phases"), rows_shown=4)
        stretch_column(self, PHASE)


def _plain(value: float) -> str:
    """A number as it can be typed again."""
    return QLocale().toString(float(value), "g", 6)


def _typed(text: str, unit: Unit) -> float:
    """A typed number in the unit that is stored; nothing here reaches a thousand."""
    return parse_typed(text, unit, below=1000.0).stored
