"""The parts of the dialog that imports readings."""
