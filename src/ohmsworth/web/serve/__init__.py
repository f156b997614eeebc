"""Serving the bench: where it listens, who else serves these records, and how it ends."""
