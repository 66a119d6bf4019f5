"""Files in and out: logger files, past seasons, calendars, spreadsheets, printed sheets."""
