"""The tables as SQLModel declares them: keys, foreign keys, CHECKs. Imported only where something is written."""
