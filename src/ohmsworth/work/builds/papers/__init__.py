"""Papers of cables in the records: issued once, kept with the cable's log, drawn and verified from there."""
