"""Hatch day: pips and chicks by time, rings and masses, and how the hatch goes."""
