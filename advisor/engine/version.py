"""The version of the model: outcomes of another version are never taken for answers of this one."""

# Goes up by one whenever the same brief over the same catalogue may get another answer.
MODEL_VERSION = "1"
