"""The command line: arguments to one use case, and its result in print."""
