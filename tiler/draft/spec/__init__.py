"""The spec: a TOML file read key by key into records, and written as text."""
