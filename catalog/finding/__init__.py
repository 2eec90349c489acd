"""How parts are found: what can be asked of each kind's figures and words, and how a list of them can be sorted."""
