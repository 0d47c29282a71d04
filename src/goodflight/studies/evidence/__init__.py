"""What an inspector asks before a flight, declared once, and how a project answers it."""
