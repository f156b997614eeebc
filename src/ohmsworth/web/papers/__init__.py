"""What the pages of papers have in common, whatever the papers are of: the list, the form, and what is printed."""
