"""Questions to studies and outcomes; only these modules filter. The clock is always an argument."""
