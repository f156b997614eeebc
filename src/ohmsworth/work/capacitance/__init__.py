"""The capacitance of a cable's wires by an audio interface: what is played, and what the recordings say."""
