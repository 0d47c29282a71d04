"""The ledger: its rows as text, words, course and strips; the reference of every row."""
