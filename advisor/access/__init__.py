"""Who may do what: the only rooms that decide it. ``roles``: who is who; ``rules``: which role each address needs;
``objects``: whose part, study or token it is."""
