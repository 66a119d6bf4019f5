"""A reading typed by hand, turned into what the journal keeps; what was typed stays beside it."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from hatchbook.journal import Reading
from hatchbook.statistics.moisture import (
    PSYCHROMETER_COEFFICIENT,
    pressure_kpa,
    relative_humidity_from_wet_bulb,
)
from hatchbook.trade.codes import Wick
from hatchbook.trade.units import Typed

_LOWEST_C, _HIGHEST_C = -20.0, 60.0


class ReadingFault(StrEnum):
    """What is wrong with a typed reading."""

    NOTHING = "nothing"
    TEMPERATURE_RANGE = "temperature_range"
    HUMIDITY_RANGE = "humidity_range"
    WET_ABOVE_DRY = "wet_above_dry"
    WET_NEEDS_DRY = "wet_needs_dry"
    WET_TOO_LOW = "wet_too_low"


class ReadingError(ValueError):
    """A typed reading that cannot be; ``str(error)`` is a plain sentence."""

    def __init__(self, fault: ReadingFault, sentence: str) -> None:
        super().__init__(sentence)
        self.fault = fault


@dataclass(frozen=True)
class WetBulbMeaning:
    """What a wet bulb means, and by what: the psychrometer's coefficient (per °C), and the air pressure.

    ``humidity``: %; ``others``: what the same two values would mean with another wick, None where that cannot be.
    """

    humidity: float
    wick: Wick
    coefficient: float
    pressure_kpa: float
    altitude_m: float
    others: dict[Wick, float | None]


@dataclass(frozen=True)
class TypedReading:
    """What was typed: dry bulb, and either the relative humidity or the wet bulb with its wick."""

    temperature: Typed | None = None
    humidity: Typed | None = None
    wet_bulb: Typed | None = None
    wick: Wick = Wick.STILL_AIR

    def humidity_percent(self, altitude_m: float) -> float | None:
        """The relative humidity, %, read or from the wet bulb at the pressure of an altitude.

        Raises:
            ReadingError: a value is out of range, or the wet bulb contradicts the dry one.
        """
        if self.wet_bulb is None:
            if self.humidity is not None and not 0 <= self.humidity.stored <= 100:
                raise ReadingError(ReadingFault.HUMIDITY_RANGE, "Humidity lies between 0 and 100 %.")
            return None if self.humidity is None else self.humidity.stored
        if self.temperature is None:
            raise ReadingError(
                ReadingFault.WET_NEEDS_DRY, "A wet bulb tells the humidity only beside the dry bulb."
            )
        dry, wet = self.temperature.stored, self.wet_bulb.stored
        if wet > dry:
            raise ReadingError(ReadingFault.WET_ABOVE_DRY, "The wet bulb cannot be warmer than the dry bulb.")
        try:
            return float(relative_humidity_from_wet_bulb(dry, wet, pressure_kpa(altitude_m), self.wick))
        except ValueError as error:
            raise ReadingError(
                ReadingFault.WET_TOO_LOW, "So cold a wet bulb would mean less than 0 % humidity: check both."
            ) from error

    def to_record(self, probe: int, at: int, altitude_m: float) -> Reading:
        """The reading as the journal keeps it.

        Args:
            probe: the probe's number.
            at: the instant, UTC seconds.
            altitude_m: how high the machine stands; thin air dries a wick faster.

        Raises:
            ReadingError: nothing was typed, or it cannot be.
        """
        if self.temperature is None and self.humidity is None and self.wet_bulb is None:
            raise ReadingError(ReadingFault.NOTHING, "Type a temperature or a humidity.")
        temperature = None if self.temperature is None else self.temperature.stored
        if temperature is not None and not _LOWEST_C <= temperature <= _HIGHEST_C:
            raise ReadingError(
                ReadingFault.TEMPERATURE_RANGE,
                f"A temperature lies between {_LOWEST_C:g} and {_HIGHEST_C:g} °C.",
            )
        humidity = self.humidity_percent(altitude_m)
        return Reading(probe, at, temperature, humidity, entered=self.to_json(altitude_m))

    def wet_bulb_meaning(self, altitude_m: float) -> WetBulbMeaning | None:
        """What the wet bulb means at an altitude, and by what; None where none was typed.

        Raises:
            ReadingError: as ``humidity_percent`` does.
        """
        humidity = self.humidity_percent(altitude_m)
        if self.wet_bulb is None or humidity is None:
            return None
        others: dict[Wick, float | None] = {}
        for wick in Wick:
            if wick is not self.wick:
                try:
                    others[wick] = replace(self, wick=wick).humidity_percent(altitude_m)
                except ReadingError:
                    others[wick] = None
        return WetBulbMeaning(
            humidity,
            self.wick,
            PSYCHROMETER_COEFFICIENT[self.wick],
            pressure_kpa(altitude_m),
            altitude_m,
            others,
        )

    def to_json(self, altitude_m: float | None = None) -> str:
        """What was typed, for the column that keeps it; for a wet bulb with what it was reckoned with."""
        parts: dict[str, Any] = {}
        for name in ("temperature", "humidity", "wet_bulb"):
            typed: Typed | None = getattr(self, name)
            if typed is not None:
                parts[name] = json.loads(typed.to_json())
        if self.wet_bulb is not None:
            parts["wick"] = str(self.wick)
            if altitude_m is not None:
                parts["coefficient"] = PSYCHROMETER_COEFFICIENT[self.wick]
                parts["pressure_kpa"] = round(pressure_kpa(altitude_m), 3)
        return json.dumps(parts, ensure_ascii=False)

    @classmethod
    def from_json(cls, text: str) -> TypedReading:
        """Back from ``to_json``; what it was reckoned with is left out.

        Raises:
            ValueError: it is not the JSON of a typed reading.
        """
        parts = json.loads(text)
        typed = {
            name: Typed.from_json(json.dumps(parts[name]))
            for name in ("temperature", "humidity", "wet_bulb")
            if name in parts
        }
        return cls(**typed, wick=Wick(parts.get("wick", Wick.STILL_AIR)))
