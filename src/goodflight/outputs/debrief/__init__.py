"""What a flight said, and the log book of all flights."""
