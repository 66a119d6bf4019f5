"""Weighing: egg by egg from a scale, the tray as one, or from paper."""
