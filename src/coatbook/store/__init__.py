"""The only place that knows the database: engine, acts, guards, strikes, closings, upgrade, backup, check."""
