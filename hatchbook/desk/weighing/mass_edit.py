"""The field for a mass: typed by hand, or by a scale that types like a keyboard."""

from __future__ import annotations

from hatchbook.desk.entry.value_edit import ValueEdit
from hatchbook.desk.words.typing import number_sentence
from hatchbook.trade.scale_text import ScaleMass, read_scale
from hatchbook.trade.units import NumberError, Typed


class MassEdit(ValueEdit):
    """A mass with its unit, read out of whatever the scale sends with it."""

    def read(self) -> ScaleMass | None:
        """The mass; None where nothing is typed, or where it is none, which is then said below."""
        if self.is_empty():
            return None
        try:
            found = read_scale(self.field.text(), self.unit, below=self.below)
        except NumberError as error:
            self.tell(number_sentence(error))
            return None
        if found.mass_g <= 0:
            self.tell(self.tr("A mass is more than nothing."))
            return None
        return found

    def typed(self) -> Typed | None:
        """As ``read``, without the scale's resolution."""
        found = self.read()
        return None if found is None else found.typed
