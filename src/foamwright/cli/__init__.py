"""The command line: parses, calls a job, prints."""
