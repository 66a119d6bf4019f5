"""The left column: batches by season, the calendar, the duties of a day."""
