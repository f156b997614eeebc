"""Built cables in the shop's records: described, measured wire by wire, judged as their folder is."""
