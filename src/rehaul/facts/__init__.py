"""Published numbers as tables: one row is one fact, with document, edition, place and how it was read."""
