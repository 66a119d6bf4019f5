"""The pages of the main area."""
