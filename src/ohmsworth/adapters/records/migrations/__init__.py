"""Steps from one layout of the tables to the next; a step that was published is never changed."""
