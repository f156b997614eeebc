"""Papers in the records: issued once, kept with the log of the cable or the study, drawn and verified from there."""
