"""Faults of a take that show in its sound: found before anything is computed from it."""
