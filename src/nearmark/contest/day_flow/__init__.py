"""How a day flows through its rooms: queues, minutes lost and the end of the day, simulated."""
