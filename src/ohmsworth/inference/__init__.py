"""What the readings support: scatter, intervals, comparisons and verdicts."""
