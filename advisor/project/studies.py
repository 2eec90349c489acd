"""Settings of studies."""

# Builds that one study may ask for; the demo catalogue makes 28 million, a few seconds' work for two cores.
STUDY_MOST_CANDIDATES = 250_000_000

# Longest record of a study, as JSON in bytes: beyond it alternatives of the last entries are left out, and said to be.
STUDY_RECORD_BYTES = 3_000_000

# Longest front of a study, as JSON in bytes: beyond it the least desirable builds are left out, and counted.
STUDY_FRONT_BYTES = 5_000_000
