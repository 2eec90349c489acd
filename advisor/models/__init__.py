"""What people asked, and what was found for them."""

from advisor.models.accounts import ApiToken, Handle
from advisor.models.outcomes import Chunk, Outcome, Snapshot
from advisor.models.studies import Study
from advisor.models.tape import TapeRecord
from advisor.states import ChunkState, State

__all__ = ["ApiToken", "Chunk", "ChunkState", "Handle", "Outcome", "Snapshot", "State", "Study", "TapeRecord"]
