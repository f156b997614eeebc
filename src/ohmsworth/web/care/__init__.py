"""Pages about care for specimens, and about what the shop knows from several studies."""
