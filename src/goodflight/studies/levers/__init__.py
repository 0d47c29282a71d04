"""What the builder can change, as changed cases."""
