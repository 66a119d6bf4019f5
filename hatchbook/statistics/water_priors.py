"""What is believed of a machine's water and vent before its own history tells: weak, and each with its origin.

Rates are g of water an hour and kPa of vapour pressure.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Prior:
    """A normal belief: its middle and its standard deviation."""

    middle: float
    spread: float


WATER_TO_VENT = Prior(-0.55, 0.25)
"""Logarithm of what half of the channels give off against what the half open vent carries away.

*Common practice, no source*: part of the channels filled and the vent about half open stands near 45 % up to
lockdown, all of them with the vent at most a third open near 65 % after it. In a room of 20 °C and 50 % with a
dozen or more eggs both come out of this middle within some points. The spread is our choice: it is that of the
vapour pressures which the bands of common practice allow, with as much again for machines made otherwise.
"""

LEAK = Prior(-1.7, 0.8)
"""Logit of what a shut vent still lets through, against an open one: 15 %, from 4 to 47 % (our choice)."""

VENT_CURVE = Prior(0.0, 0.3)
"""Logarithm of the power with which the air change grows with the opening; 0: in proportion (our choice)."""

WATER_VAPOUR = Prior(2.0, 0.5)
"""Logit of the vapour pressure at the water's surface against that of water as warm as the air: water that
evaporates is cooler than the air, 88 %, from 74 to 95 % (our choice: 2.4 °C cooler, from 1 to 5.5 °C)."""

EGG_WATER = Prior(0.0, 0.35)
"""Logarithm of what the eggs give off, against their number, mass and conductance (see ``EGG_CONDUCTANCE``)."""

HATCH_WATER = Prior(0.7, 0.5)
"""Logarithm of how many times as much the eggs give off in lockdown. *Common practice, no source*: eggs add some
moisture, most of all while hatching; the number is our choice."""

PROBE_APART = Prior(0.0, 1.25)
"""How far the machine's probe reads from what the room's probe makes expect, % RH: low-cost sensors are off by
2 to 5 % (*from memory*), corrected ones by less."""

EVAPORATION_G_H_M2_KPA = 131.0
EVAPORATION_SPREAD = 0.5
"""What a square metre of open water gives off, g an hour and kPa, with the spread of its logarithm.

Carrier's equation (95 + 0.425 v) (pw - pa) / Y in lb, h, ft2, ft/min, inHg, Btu, at still air; of undisturbed
water 74 % of it was measured (ASHRAE Transactions 104, part 1A, 1998, by its abstract); a fan's 0.3 m/s makes it
27 % more. The spread covers both and water that lies low in its channel.
"""

USUAL_CHANNEL_CM2 = 55.0
USUAL_CHANNEL_SPREAD = 0.7
"""The surface of a channel of which nothing is known (our choice), and the spread of its logarithm."""

EGG_CONDUCTANCE = 0.33
"""mg of water a day, gram of egg and torr: layers 0.31 to 0.40 (Meir & Ar 2008), turkeys 0.19."""

USUAL_EGG_G = 58.0
"""The mass of a hen's egg that was never weighed, g (our choice)."""

ROOM_KPA = 1.17
ROOM_SPREAD = 0.28
"""Vapour in the air of a room of which nothing is known: 20 °C and 50 %; the spread of its logarithm is from a
dry winter day (35 %) to a damp summer one (22 °C, 75 %). Our choice."""

FAR_FROM_TRIED = 0.08
"""By how much a setting that was never tried may lie farther off, for each factor e by which its air change and its
water differ from the nearest that was (our choice): a curve fitted inside bends outside."""

BETWEEN_SETTINGS, BETWEEN_BATCHES, BETWEEN_STRETCHES = 0.08, 0.08, 0.06
"""How far settings, batches and stretches lie from the model, as the spread of a logarithm of air change against
water, before the machine's own history tells (our choice); each counts as much as ``SPREAD_WEIGHT`` of its kind."""
SPREAD_WEIGHT = 3.0

DAY_SPREAD, DAY_WEIGHT = 1.0, 4.0
"""How far a day's mean lies from its stretch, % RH, and as how many days that belief counts (our choice)."""

TOP_UP_SPREAD, FILLED_ALIKE = 0.35, 0.12
"""How far what is topped up lies from what has evaporated: spread of the logarithm, of each and of all of them
together, since the same hand always fills to the same mark (our choice)."""
