"""Impedance of a contact over frequency, from recordings of tones."""
