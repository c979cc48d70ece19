"""The event in the database: its tables, reading and saving it, its history and results."""
