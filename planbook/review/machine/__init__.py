"""Rules about what machines can do, and what may be held at them."""
