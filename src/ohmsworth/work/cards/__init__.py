"""The shop's other cards: specimens, meters, check standards, limits, people, customers, jobs."""
