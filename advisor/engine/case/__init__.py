"""One enclosure under one brief: everything about it that no choice of fans, cooler, supply or drive changes."""
