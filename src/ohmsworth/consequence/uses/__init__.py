"""The uses: one file a family, each with its circuit, its equations, and why its thresholds are what they are."""
