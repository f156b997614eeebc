"""Visits to the contacts of specimens: what was read of them on one day, as figures beside each study."""
