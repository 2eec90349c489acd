"""The engine's errors. ``study`` catches this root class and nothing broader."""


class EngineError(Exception):
    """Something about the inputs that the engine can't compute with; the message says what to change."""


class InputError(EngineError):
    """A value is outside what an equation or a record accepts."""


class SolverError(EngineError):
    """A network did not converge; the message names the enclosure and the residual."""
