"""Lots of studies in the records: stated, planned, judged, and their papers."""
