"""Rules about grain, movement and milling of wood."""
