"""Hatchbook: a hatch journal for small breeders."""

__version__ = "0.1.0"
