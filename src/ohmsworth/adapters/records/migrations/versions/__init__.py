"""One file a layout."""
