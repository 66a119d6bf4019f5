"""The figures of a journal: read through it, computed by the statistics, handed out frozen.

What is named here is imported when it is first asked for, so that a window need not wait for it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hatchbook.figures.among_others import RateAmong, batch_against_others, rates_among_others
    from hatchbook.figures.batch import batch_curves, batch_figures, batch_view
    from hatchbook.figures.batch_list import overview
    from hatchbook.figures.calendar import calendar_figures
    from hatchbook.figures.candling import eggs_before, last_finding, outcome_of_egg
    from hatchbook.figures.care import CareEntry, machine_care
    from hatchbook.figures.cause_results import BatchCauses, CauseFigures
    from hatchbook.figures.causes import batch_causes
    from hatchbook.figures.comparison import compare_batches
    from hatchbook.figures.comparison_results import ComparisonFigures, Question
    from hatchbook.figures.comparison_rows import Grouping
    from hatchbook.figures.effects import EventEffect, event_effects
    from hatchbook.figures.egg_story import EggStory, StoryEntry, StoryKind, story_of_egg
    from hatchbook.figures.guide import GuideModel, advised_setting, machine_guide, machine_guide_model
    from hatchbook.figures.guide_results import GuideCell, MachineGuide
    from hatchbook.figures.lines import journal_lines
    from hatchbook.figures.machines import MachineFigures, machine_figures
    from hatchbook.figures.past_batches import PastDraft, PastFigures, past_draft, past_figures
    from hatchbook.figures.probe_watch import ProbeFlags, ProbeWatch
    from hatchbook.figures.results import (
        Band,
        BatchFigures,
        BatchState,
        BatchSummary,
        CalendarFigures,
        Curves,
        DutyLine,
        EggFigures,
        HatchTiming,
        JournalLine,
        LastReading,
        LineKind,
        Overview,
        PhaseFigures,
        PhaseState,
        SeasonGroup,
        Span,
        WeightFigures,
    )
    from hatchbook.figures.room import RoomAir, RoomSeries, room_air, room_series
    from hatchbook.figures.seasons import PooledRates, SeasonFigures, season_figures
    from hatchbook.figures.temperature import TemperatureFigures, temperature_figures
    from hatchbook.figures.weight_results import (
        AdviceBasis,
        EggForecast,
        Estimate,
        HoldAdvice,
        LossPath,
        LossTarget,
        MassBase,
        WeighedPoint,
        WeightBasis,
        WeightForecast,
    )

_HOMES = {
    "among_others": ("RateAmong", "batch_against_others", "rates_among_others"),
    "batch": ("batch_curves", "batch_figures", "batch_view"),
    "batch_list": ("overview",),
    "calendar": ("calendar_figures",),
    "candling": ("eggs_before", "last_finding", "outcome_of_egg"),
    "care": ("CareEntry", "machine_care"),
    "comparison": ("compare_batches",),
    "comparison_results": ("ComparisonFigures", "Question"),
    "comparison_rows": ("Grouping",),
    "cause_results": ("BatchCauses", "CauseFigures"),
    "causes": ("batch_causes",),
    "effects": ("EventEffect", "event_effects"),
    "egg_story": ("EggStory", "StoryEntry", "StoryKind", "story_of_egg"),
    "guide": ("GuideModel", "advised_setting", "machine_guide", "machine_guide_model"),
    "guide_results": ("GuideCell", "MachineGuide"),
    "lines": ("journal_lines",),
    "machines": ("MachineFigures", "machine_figures"),
    "past_batches": ("PastDraft", "PastFigures", "past_draft", "past_figures"),
    "probe_watch": ("ProbeFlags", "ProbeWatch"),
    "room": ("RoomAir", "RoomSeries", "room_air", "room_series"),
    "seasons": ("PooledRates", "SeasonFigures", "season_figures"),
    "temperature": ("TemperatureFigures", "temperature_figures"),
    "weight_results": (
        "AdviceBasis",
        "EggForecast",
        "Estimate",
        "HoldAdvice",
        "LossPath",
        "LossTarget",
        "MassBase",
        "WeighedPoint",
        "WeightBasis",
        "WeightForecast",
    ),
}

__all__ = [
    "AdviceBasis",
    "Band",
    "BatchCauses",
    "BatchFigures",
    "BatchState",
    "BatchSummary",
    "CalendarFigures",
    "CareEntry",
    "CauseFigures",
    "ComparisonFigures",
    "Curves",
    "DutyLine",
    "EggFigures",
    "EggForecast",
    "EggStory",
    "Estimate",
    "EventEffect",
    "Grouping",
    "GuideCell",
    "GuideModel",
    "HatchTiming",
    "HoldAdvice",
    "JournalLine",
    "LastReading",
    "LineKind",
    "LossPath",
    "LossTarget",
    "MachineFigures",
    "MachineGuide",
    "MassBase",
    "Overview",
    "PastDraft",
    "PastFigures",
    "PhaseFigures",
    "PhaseState",
    "PooledRates",
    "ProbeFlags",
    "ProbeWatch",
    "Question",
    "RateAmong",
    "RoomAir",
    "RoomSeries",
    "SeasonFigures",
    "SeasonGroup",
    "Span",
    "StoryEntry",
    "StoryKind",
    "TemperatureFigures",
    "WeighedPoint",
    "WeightBasis",
    "WeightFigures",
    "WeightForecast",
    "advised_setting",
    "batch_against_others",
    "batch_causes",
    "batch_curves",
    "batch_figures",
    "batch_view",
    "calendar_figures",
    "compare_batches",
    "eggs_before",
    "event_effects",
    "journal_lines",
    "last_finding",
    "machine_care",
    "machine_figures",
    "machine_guide",
    "machine_guide_model",
    "outcome_of_egg",
    "overview",
    "past_draft",
    "past_figures",
    "rates_among_others",
    "room_air",
    "room_series",
    "season_figures",
    "story_of_egg",
    "temperature_figures",
]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"hatchbook.figures has no {name}")
    home = next((module for module, names in _HOMES.items() if name in names), "results")
    return getattr(import_module(f"hatchbook.figures.{home}"), name)
