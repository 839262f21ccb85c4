//! Durable files and the memo journal of a run folder.
