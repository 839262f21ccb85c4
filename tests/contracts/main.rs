//! Contracts of the workspace itself: which crate may see which, and that every file belongs to a target.
