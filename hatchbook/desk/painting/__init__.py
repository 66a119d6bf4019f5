"""Pure drawing: functions that paint into a rectangle with a scheme. No widgets, no records."""
