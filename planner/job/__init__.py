"""The job file: its tables and their types, TOML in, findings out, and the files `new` writes."""
