"""Forms of pages, made from the descriptions of fields below: their words are those of the rooms that check values."""
