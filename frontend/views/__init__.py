"""Pages, thin: look up, call one function of the rooms below, show."""
