"""The page of a machine: what water and vent give in it, how its batches fared, its checks and care."""
