"""What is said of capacitances that recordings told."""
