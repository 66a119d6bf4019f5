"""The lines of a logger's file, with what its columns hold."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hatchbook.desk.importing.column_table import ColumnTable
from hatchbook.desk.importing.preview_model import PreviewLines
from hatchbook.desk.words.file_layout import role_word
from hatchbook.exchange.logger_file import ColumnRole, TemperatureUnit

#: What a column cannot hold beside another that does.
_EXCLUDES = {
    ColumnRole.DATE_TIME: (ColumnRole.DATE_TIME, ColumnRole.DATE, ColumnRole.TIME),
    ColumnRole.DATE: (ColumnRole.DATE_TIME, ColumnRole.DATE),
    ColumnRole.TIME: (ColumnRole.DATE_TIME, ColumnRole.TIME),
    ColumnRole.TEMPERATURE: (ColumnRole.TEMPERATURE,),
    ColumnRole.HUMIDITY: (ColumnRole.HUMIDITY,),
    ColumnRole.LEAVE_OUT: (),
}


def with_role(roles: tuple[ColumnRole, ...], place: int, role: ColumnRole) -> tuple[ColumnRole, ...]:
    """The roles of the columns after one of them was chosen: those that it excludes are left out."""
    changed = [ColumnRole.LEAVE_OUT if other in _EXCLUDES[role] else other for other in roles]
    changed[place] = role
    return tuple(changed)


class PreviewTable(ColumnTable):
    """The columns of a logger's file: date, time, temperature, humidity."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(with_role, parent)

    def show_lines(self, lines: PreviewLines, unit: TemperatureUnit) -> None:
        """Shows a file, or the same one read otherwise."""
        self.show_columns(lines, ((role, role_word(role, unit)) for role in ColumnRole))
