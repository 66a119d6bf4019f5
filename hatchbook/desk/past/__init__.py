"""Past seasons on the screen: the parts of the import of a table, and of a batch entered by its counts."""
