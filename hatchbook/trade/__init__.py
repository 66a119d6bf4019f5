"""What the trade knows: codes, programmes, fates, stages, units. No Qt, no SQL."""
