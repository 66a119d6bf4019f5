"""The candling room: a dark screen, one hand on the keys, every verdict stored as it is given."""
