"""The tray: every egg in its place, and the tally of what became of them."""
