"""Everything the breeder sees: the only place with Qt."""
