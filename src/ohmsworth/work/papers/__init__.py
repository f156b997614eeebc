"""Papers about finished cables: certificates that are issued, verified and printed, and labels."""
