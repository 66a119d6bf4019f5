"""Going from egg to egg with one key each: candling, hatching, opening."""
