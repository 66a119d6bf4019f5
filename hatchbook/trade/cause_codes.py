"""The codes of what a hatch shows, of why it may have failed, and of the facts by which causes are weighed."""

from __future__ import annotations

from enum import StrEnum


class CauseSign(StrEnum):
    """What is seen of a batch that something went wrong with."""

    INFERTILE = "infertile"
    NO_DEVELOPMENT = "no_development"
    EARLY_DEATHS = "early_deaths"
    MID_DEATHS = "mid_deaths"
    LATE_DEATHS = "late_deaths"
    PIPPED_DEAD = "pipped_dead"
    DRY_AND_STUCK = "dry_and_stuck"
    WET = "wet"
    LARGE_AIR_CELL = "large_air_cell"
    SMALL_AIR_CELL = "small_air_cell"
    MALFORMED = "malformed"
    MALPOSITIONS = "malpositions"
    YOLK_OUTSIDE = "yolk_outside"
    DRAWN_OUT = "drawn_out"
    EARLY_HATCH = "early_hatch"
    LATE_HATCH = "late_hatch"
    ROTTEN = "rotten"
    UNHEALED_NAVELS = "unhealed_navels"
    ODD_LIMBS = "odd_limbs"


NOT_RECORDED_SIGNS = frozenset({CauseSign.NO_DEVELOPMENT, CauseSign.UNHEALED_NAVELS, CauseSign.ODD_LIMBS})
"""Signs of the published table that the journal has no field for."""


class CauseCode(StrEnum):
    """Why a batch may have lost its eggs."""

    TOO_HUMID = "too_humid"
    TOO_DRY = "too_dry"
    HATCH_TOO_DRY = "hatch_too_dry"
    TOO_WARM = "too_warm"
    TOO_COOL = "too_cool"
    CHILLED = "chilled"
    TURNING = "turning"
    STORAGE = "storage"
    SHIPPING = "shipping"
    VENTILATION = "ventilation"
    STOCK = "stock"
    INFERTILITY = "infertility"
    DIRT = "dirt"


class FactKind(StrEnum):
    """Where a fact comes from: kinds that say the same independently make a case strong."""

    CONDITION = "condition"  #: how the eggs were kept
    SIGN = "sign"  #: what the eggs showed
    HISTORY = "history"  #: what the breeder's other batches did


class FactCode(StrEnum):
    """A number that the journal knows or does not know of a batch."""

    #: Points of % RH that the phase's mean lies over (+) or under (−) its band; 0 inside.
    HUMIDITY_BEFORE_LOCKDOWN = "humidity_before_lockdown"
    HUMIDITY_IN_LOCKDOWN = "humidity_in_lockdown"
    #: Points of weight lost beyond (+) or short of (−) the corridor by the end of the range that is nearer to it;
    #: 0.01 off where that end lies inside and the loss itself does not.
    WEIGHT_LOSS = "weight_loss"
    #: 1 where the hygrometer, the thermometer was checked or its accuracy is known.
    HYGROMETER_CHECKED = "hygrometer_checked"
    THERMOMETER_CHECKED = "thermometer_checked"
    #: °C off the aim in the first days (4 of a hen's 21), and outside the band in the phases.
    TEMPERATURE_EARLY = "temperature_early"
    TEMPERATURE_BEFORE_LOCKDOWN = "temperature_before_lockdown"
    TEMPERATURE_IN_LOCKDOWN = "temperature_in_lockdown"
    #: Hours.
    WITHOUT_HEAT = "without_heat"
    LID_OPEN_IN_LOCKDOWN = "lid_open_in_lockdown"
    VENT_SHUT_IN_LOCKDOWN = "vent_shut_in_lockdown"
    #: Share of the turnings due that were not logged, 0 to 1; how many a day were planned.
    TURNS_MISSED = "turns_missed"
    TURNS_A_DAY = "turns_a_day"
    #: Days from laying to setting: of the mean egg, and of the oldest.
    AGE_MEAN = "age_mean"
    AGE_OLDEST = "age_oldest"
    #: 1 for eggs that came by post or from elsewhere.
    SHIPPED = "shipped"
    #: Shares, 0 to 1, of the opened eggs that died late or in the pip.
    WET = "wet"
    DRY_AND_STUCK = "dry_and_stuck"
    SMALL_AIR_CELL = "small_air_cell"
    LARGE_AIR_CELL = "large_air_cell"
    YOLK_OUTSIDE = "yolk_outside"
    MALFORMED = "malformed"
    UNTURNED_LIES = "unturned_lies"
    #: Share of the eggs set.
    ROTTEN = "rotten"
    #: Share of the eggs set that were found infertile when opened, or candled clear.
    INFERTILE = "infertile"
    #: Hours from the first chick to the last; hours by which the middle chick came after the own batches' one.
    SPREAD = "spread"
    HATCH_LATE = "hatch_late"
    #: The chance of so many losses at a stage, or more, among the breeder's own batches, 0 to 1.
    EARLY_LOSS_CHANCE = "early_loss_chance"
    MID_LOSS_CHANCE = "mid_loss_chance"
    LATE_LOSS_CHANCE = "late_loss_chance"
    PIPPED_LOSS_CHANCE = "pipped_loss_chance"
    INFERTILE_CHANCE = "infertile_chance"
    #: Points of hatch of fertile by which own batches as moist, or as dry, lie over (+) or under (−) the others.
    MOIST_BATCHES = "moist_batches"
    DRY_BATCHES = "dry_batches"
    #: Points of hatch of fertile, of fertility, by which the pen's other batches lie over (+) or under (−) the
    #: other pens' batches.
    PEN_HATCH = "pen_hatch"
    PEN_FERTILITY = "pen_fertility"
    #: The same by the end of the range that is nearer to nothing; 0 where the range holds it.
    PEN_HATCH_SURE = "pen_hatch_sure"
    PEN_FERTILITY_SURE = "pen_fertility_sure"
    #: Points of hatch of fertile by which the pen does better (+) or worse (−) in other machines than in this one.
    PEN_ELSEWHERE = "pen_elsewhere"


class NotRecorded(StrEnum):
    """What would tell, and is never in the journal."""

    FEED = "feed"
    BREEDERS_HEALTH = "breeders_health"
    FRESH_AIR = "fresh_air"
    STORE_CLIMATE = "store_climate"
    JOURNEY = "journey"
    MALES = "males"
    NESTS = "nests"
    EVENNESS_OF_HEAT = "evenness_of_heat"
