"""From recordings of a resistor and an open wire to the wire's capacitance."""
