"""Use cases: what the shop asks the program to do, one file each."""
