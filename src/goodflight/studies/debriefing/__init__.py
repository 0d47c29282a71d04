"""What a flight that was flown says: about the rocket, and about what was predicted."""
