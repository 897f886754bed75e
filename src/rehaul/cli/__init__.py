"""The command line: small verbs, one job file in, files or a table out."""
