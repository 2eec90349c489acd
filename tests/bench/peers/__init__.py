"""Programs from outside that solve the same networks."""
