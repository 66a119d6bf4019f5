"""Fields for what breeders type: instants, values with units."""
