"""Which part does not fit where, and why. The order of the checks decides under which one a build is counted."""

from advisor.engine.fit.build import Build, first_misfit, misfits
from advisor.engine.fit.misfit import ORDER, SCALES, Misfit, normalised

__all__ = ["ORDER", "SCALES", "Build", "Misfit", "first_misfit", "misfits", "normalised"]
