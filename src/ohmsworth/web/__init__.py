"""The bench in a browser: pages and fragments made on the server, and an interface for other programs."""
