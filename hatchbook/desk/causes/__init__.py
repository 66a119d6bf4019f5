"""The table of probable causes on the page of a finished batch."""
