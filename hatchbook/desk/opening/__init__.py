"""Opening what did not hatch: when each embryo died and how it lay; and taking eggs out before."""
