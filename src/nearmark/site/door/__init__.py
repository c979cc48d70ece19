"""Who comes in: accounts, devices, signing in, and the table of who may open what."""
