"""The lines of a batch's journal."""
