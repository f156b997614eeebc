"""Who is let in, and to what."""
