"""An enclosure from a tape measure and a photograph: read, checked and turned into a catalogue block."""
