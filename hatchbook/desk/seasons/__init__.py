"""The page on which seasons, pens, machines and whatever else are compared."""
