"""The physical things: counts by weighing, tare and net mass, box volume, materials, pouring."""
