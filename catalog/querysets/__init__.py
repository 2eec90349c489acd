"""Questions to the catalogue; only these modules filter."""
