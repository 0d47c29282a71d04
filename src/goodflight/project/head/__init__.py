"""What `rocket.toml` says beside its parts: one module a subject, tables and record together."""
