"""Use cases of the workshop: what an order needs before anything is built."""
