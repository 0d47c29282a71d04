"""Paper for the field: evidence, cards, checklists, packing list. Black on white, to write on."""
