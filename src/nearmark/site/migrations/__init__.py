"""The numbered steps of the database, from the first version on."""
