"""The interface for other programs: the same use cases as the pages, over HTTP and JSON."""
