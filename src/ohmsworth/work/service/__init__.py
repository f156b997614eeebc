"""The service card of a specimen or a cable, from the shop's records."""
