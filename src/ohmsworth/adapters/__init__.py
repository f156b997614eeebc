"""The edge: files, records, instruments, and the writers of reports; each can be replaced."""
