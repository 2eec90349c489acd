"""What people asked, and what was found for them."""

from advisor.models.outcomes import Chunk, Outcome, Snapshot
from advisor.models.studies import Study
from advisor.states import ChunkState, State

__all__ = ["Chunk", "ChunkState", "Outcome", "Snapshot", "State", "Study"]
