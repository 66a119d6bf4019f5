"""The dialogs, each opened where it is needed."""
