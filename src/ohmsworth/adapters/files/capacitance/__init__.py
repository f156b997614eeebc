"""The folder of a measurement of capacitance."""
