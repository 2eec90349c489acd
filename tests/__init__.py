"""What holds the project to its word: checks by area, checks against the outside world, and what measures speed."""
