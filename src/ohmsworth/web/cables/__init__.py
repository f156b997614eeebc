"""Pages of built cables: their list, a new one, measuring, rows, report, description."""
