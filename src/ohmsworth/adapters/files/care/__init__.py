"""A folder that asks about care for one contact: care.toml, and what was read and recorded beside it."""
