"""What is read aloud and ticked on the day, declared once for paper, page and the field card."""
